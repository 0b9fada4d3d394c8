#pragma once

#include <glib.h>

/* What a cell holds, and so how its stored value becomes the number shown. */
typedef enum
{
  BED_BOOK_CELL_TEXT,
  BED_BOOK_CELL_DATE,   /* stored as text */
  BED_BOOK_CELL_MOMENT, /* stored as text */
  BED_BOOK_CELL_COUNT,
  BED_BOOK_CELL_YEAR,
  BED_BOOK_CELL_NUMBER,         /* plain, two decimals */
  BED_BOOK_CELL_PERCENT,        /* stored in hundredths of a percent */
  BED_BOOK_CELL_MASS,           /* stored in mg */
  BED_BOOK_CELL_LENGTH,         /* stored in um */
  BED_BOOK_CELL_HOURS,          /* stored in minutes */
  BED_BOOK_CELL_MONEY,          /* stored in minor units */
  BED_BOOK_CELL_MONEY_PER_HOUR, /* minor units an hour */
  BED_BOOK_CELL_MONEY_PER_MASS, /* minor units per mg, and so on */
  BED_BOOK_CELL_MASS_PER_LOG,
  BED_BOOK_CELL_MONEY_PER_LOG,
  BED_BOOK_CELL_MASS_PER_HOUR,
  BED_BOOK_CELL_LOGS_PER_HOUR,
  BED_BOOK_CELL_HOURS_PER_MASS,
  BED_N_CELLS
} BedBookCell;

/* Text, or days, which stand where text does. */
static inline gboolean
bed_cell_is_text (BedBookCell cell)
{
  return cell == BED_BOOK_CELL_TEXT || cell == BED_BOOK_CELL_DATE || cell == BED_BOOK_CELL_MOMENT;
}
