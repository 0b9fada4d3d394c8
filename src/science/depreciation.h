#pragma once

#include <glib.h>

/* How the price of a thing that lasts for years becomes a cost of each of them. Whole years: a
 * thing bought late in a year has a whole first one.
 *
 * Sources: straight line, W. Edwards, Estimating Farm Machinery Costs, Iowa State University Ag
 * Decision Maker A3-29. Declining balance that changes to the straight line when that is more:
 * Internal Revenue Service, Publication 946, How To Depreciate Property (from memory), whose
 * conventions of half years are not here. Sum of the years' digits: standard accounting (from
 * memory). tests/science/test_money.c has a life of each by hand. */

typedef enum
{
  BED_WRITE_OFF_STRAIGHT,
  BED_WRITE_OFF_DECLINING_150, /* percent of the straight line's rate, of what is left */
  BED_WRITE_OFF_DECLINING_200,
  BED_WRITE_OFF_DIGITS,
  BED_N_WRITE_OFFS
} BedWriteOff;

/* In a table of them and in a spreadsheet's VDB (): 1 the straight line, 1.5 and 2 declining
 * balance, 0 the years' digits. */
double bed_write_off_times (BedWriteOff way);

/* What is written off of a thing by the end of so many @years of its @life, as far as it is @part
 * (10,000ths) for what is reckoned, in the units of @price and @salvage (minor units of money),
 * rounded. What a year is charged is the difference of two of them, so that the charges of a whole
 * life add up to price less salvage. No less with more years, 0 at none and where there is nothing
 * to write off. */
gint64 bed_written_off (BedWriteOff way, gint64 price, gint64 salvage, guint life, guint part,
                        guint years);
