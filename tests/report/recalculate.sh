#!/bin/sh
# recalculate.sh IN OUT [PROGRAM]: LibreOffice, or Gnumeric when PROGRAM is gnumeric, opens the
# workbook IN, works every formula out anew and saves it as OUT; of a folder IN, all workbooks in it
# into the folder OUT. LibreOffice must be forced to: a file that calls itself Excel's is otherwise
# shown with the values cached in it.
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
if [ -d "$1" ]; then
  mkdir -p "$2"
  set -- "$2" "${3:-libreoffice}" "$1"/*.xlsx
else
  set -- "$2" "${3:-libreoffice}" "$1"
fi
out=$1 program=$2
shift 2
mkdir -p "$work/profile/user" "$work/out"
cat > "$work/profile/user/registrymodifications.xcu" <<'X'
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
X
if [ "$program" = gnumeric ]; then
  for book; do
    ssconvert --recalc "$book" "$work/out/$(basename "$book")" >/dev/null 2>&1
  done
else
  soffice --headless "-env:UserInstallation=file://$work/profile" \
    --convert-to 'xlsx:Calc MS Excel 2007 XML' --outdir "$work/out" "$@" >/dev/null 2>&1
fi
if [ -d "$out" ]; then
  mv "$work"/out/* "$out"
else
  mv "$work/out/$(basename "$1")" "$out"
fi
