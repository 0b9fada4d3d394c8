#!/bin/sh
# Writes po/POTFILES.in: every file with strings for translators.
cd "$(dirname "$0")/../.." || exit 2
{
  grep -rlE '\b(_|N_|N?C_|NP_|OF_|ngettext) \(\s*"' src --include='*.c' --include='*.h'
  grep -rl 'translatable="yes"' ui --include='*.ui'
  ls data/*.desktop.in data/*.metainfo.xml.in data/*.gschema.xml 2>/dev/null
} | LC_ALL=C sort >po/POTFILES.in
