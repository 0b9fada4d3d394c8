#pragma once

#include "tool/tool.h"

int bed_cmd_new (int argc, char **argv);
int bed_cmd_demo (int argc, char **argv);
int bed_cmd_import (int argc, char **argv);
int bed_cmd_export (int argc, char **argv);
int bed_cmd_report (int argc, char **argv);
int bed_cmd_labels (int argc, char **argv);
int bed_cmd_sheet (int argc, char **argv);
int bed_cmd_yard (int argc, char **argv);
int bed_cmd_drill (int argc, char **argv);
int bed_cmd_calc (int argc, char **argv);
/* What it works out, from 0; NULL: there is no more. */
const char *bed_cmd_calc_get_name (guint index);
int bed_cmd_recall (int argc, char **argv);
int bed_cmd_trace (int argc, char **argv);
int bed_cmd_due (int argc, char **argv);
int bed_cmd_history (int argc, char **argv);
int bed_cmd_undo (int argc, char **argv);
int bed_cmd_redo (int argc, char **argv);
int bed_cmd_check (int argc, char **argv);
int bed_cmd_rescue (int argc, char **argv);
int bed_cmd_backup (int argc, char **argv);
int bed_cmd_restore (int argc, char **argv);
int bed_cmd_figures (int argc, char **argv);
int bed_cmd_manual (int argc, char **argv);
int bed_cmd_format (int argc, char **argv);
int bed_cmd_format_figures (int argc, char **argv);
