#pragma once

#include "tool/tool.h"

G_BEGIN_DECLS

int bed_cmd_new (int argc, char **argv);
int bed_cmd_demo (int argc, char **argv);

G_END_DECLS
