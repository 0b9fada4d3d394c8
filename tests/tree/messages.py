"""Every text of the program that is for translators, as gettext's template, made beside the tree."""
import subprocess

# Those of meson's preset "glib" and of po/meson.build.
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "ngettext:1,2", "g_dcgettext:2", "g_dngettext:2,3",
            "g_dpgettext2:2c,3", "NP_:1,2", "OF_:1c,2"]
FORMATS = ["NP_:1:c-format", "NP_:2:c-format", "bed_say:1:c-format", "_:1:pass-c-format", "N_:1:pass-c-format",
           "C_:2:pass-c-format", "NC_:2:pass-c-format", "ngettext:1:pass-c-format", "ngettext:2:pass-c-format",
           "g_strdup_printf:1:c-format", "g_string_append_printf:2:c-format", "g_set_error:4:c-format"]


def template(source):
    return subprocess.run(
        ["xgettext", "--from-code=UTF-8", "--output=-", "--files-from=po/POTFILES.in",
         *["--keyword=" + word for word in KEYWORDS], *["--flag=" + flag for flag in FORMATS]],
        cwd=source, check=True, capture_output=True, text=True).stdout
