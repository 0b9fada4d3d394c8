#!/bin/sh
# shots.sh PROGRAM FOLDER: a picture of every page with the demo farm, light and dark, and of what
# the manual shows besides.
set -eu
program=$1 folder=$2
mkdir -p "$folder"
export GDK_BACKEND=x11 GSK_RENDERER=cairo GSETTINGS_BACKEND=memory LC_ALL=C.UTF-8
export GSETTINGS_SCHEMA_DIR=_build/data

shot () {
  name=$1 page=$2 scheme=$3 key=${4:-}
  ADW_DEBUG_COLOR_SCHEME=$scheme SHOT=$folder/$name.png \
    xvfb-run -a -s "-screen 0 1280x800x24" dbus-run-session -- sh -c '
      "$0" --demo --page "$1" >/dev/null 2>&1 & pid=$!
      sleep 2
      # Where the pointer rests nothing tells of itself.
      xdotool mousemove 1279 799
      sleep 3
      [ -z "$2" ] || { xdotool key "$2"; sleep 2; }
      import -window root "$SHOT"
      kill "$pid"' "$program" "$page" "$key" 2>/dev/null || true
  [ -s "$folder/$name.png" ] || { echo "no picture of $page"; exit 1; }
  mogrify -strip +dither -colors 200 "$folder/$name.png"
  echo "$folder/$name.png"
}

for page in week woodlot batches yard soaking picking money season history; do
  shot "$page" "$page" prefer-light
done
shot yard-dark yard prefer-dark
shot batches-dark batches prefer-dark
shot batch-form batches prefer-light ctrl+n
shot soak-form soaking prefer-light ctrl+n
shot paper batches prefer-light ctrl+p
