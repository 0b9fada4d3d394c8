#include "tool/calc.h"
#include "tool/commands.h"

/* calc reads its own options: they are measures with units. */
int
bed_cmd_calc (int argc, char **argv)
{
  return bed_calc_main (argc - 1, argv + 1);
}
