#!/bin/sh
# recalculate.sh IN OUT: LibreOffice opens the workbook IN, works every formula out
# anew and saves it as OUT. It must be forced to: a file that calls itself Excel's
# is otherwise shown with the values cached in it.
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/profile/user" "$work/out"
cat > "$work/profile/user/registrymodifications.xcu" <<'X'
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
X
soffice --headless "-env:UserInstallation=file://$work/profile" \
  --convert-to 'xlsx:Calc MS Excel 2007 XML' --outdir "$work/out" "$1" >/dev/null 2>&1
mv "$work/out/$(basename "$1")" "$2"
