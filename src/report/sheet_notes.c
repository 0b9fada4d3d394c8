#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const char *const notes[] = {
  N_ ("Every total, average and ratio is a live formula over the sheets of entries (Picks, Sales, "
      "Purchases, Spawn, Hours, Equipment, Logs). Change an entry and everything above it "
      "follows. The farm file itself is not changed by that."),
  N_ ("An empty cell where a ratio should be means that there is nothing to divide by yet."),
  N_ ("Season: from the farm's first day of the season to the day before the next. A log is \"in "
      "the season\" when it was inoculated before the season's end and not retired before its "
      "first day."),
  N_ ("Picks: a pick recorded for a stack is divided evenly over the logs that lay there that day, "
      "one recorded for a batch over the batch's logs not yet retired. Where a stack held logs of "
      "several batches the pick has a row for each."),
  N_ ("Spawn is a cost of the season in which it went into logs, by its share of what the lot "
      "cost; what is left of a lot is stock. A purchase that paid for a lot on record counts "
      "through the lot alone."),
  N_ ("Tax on purchases is a cost where the farm's settings say that it is not reclaimed; else it "
      "is left out of every cost, and stands on the sheet Purchases alone."),
  N_ ("Wax, packaging and spawn without a lot are a cost when they are bought, less what is in "
      "store at the season's last count, more what was at the last count before it. What was never "
      "counted was used."),
  N_ ("Labour: every entry at its own rate, or the farm's; the family's hours too. So the last "
      "line of the budget is a return to management, and the line below it a return to labour "
      "and management."),
  N_ ("Equipment, from the season of buying, by the share used for logs, each thing by the method "
      "chosen for it. Straight line: (price - worth at the end) / years of life; W. Edwards, "
      "Estimating Farm Machinery Costs, Iowa State University Ag Decision Maker A3-29. Declining "
      "balance: each season 1.5 or 2 / years of life of what is left, down to the worth at the "
      "end, and the straight line over the years left when that is more; Internal Revenue Service, "
      "Publication 946, How To Depreciate Property (from memory), without its half years. Sum of "
      "the years' digits: years left / (1 + 2 + ... + years of life) of what it loses; standard "
      "accounting (from memory)."),
  N_ ("Shared costs are divided by logs in the season with the largest remainder (Hamilton's "
      "rule), so that the shares add up to the cent. Common accounting practice."),
  N_ ("Order and names of the budget's lines: R. Van Tassell and others, Cornhusker Economics, "
      "University of Nebraska, 2020; A. Smith, University of Georgia, on enterprise budgets; "
      "Michigan State University, E-3410, 2020. Fruiting years: 3 to 5 in G. E. Frey, T. Durmus, "
      "E. O. Sills, F. Isik, M. M. Comer, HortTechnology 30(6):741-744, 2020; 4 is its middle."),
  N_ ("Spawn, wax, logs, water, packaging and transport grow with the crop and are variable costs "
      "in the budget, whatever they were entered for; tools, yard, certification and other are "
      "fixed where they were entered as overhead. Common practice, no source."),
  /* xgettext:no-c-format */
  N_ ("Fresh mass over dry wood (biological efficiency, a percentage): dry wood is the volume of "
      "the log, a cone without its tip, less its share of bark where the wood has one, times "
      "the wood's basic density. For comparison, over a log's life: 2.5-10.5 % in dry mushrooms, "
      "G. F. Leatham, Cultivation of shiitake, the Japanese forest mushroom, on logs, Forest "
      "Products Journal, 1982, which with 10 % of dry matter in fresh ones (common practice, no "
      "source) is 25-105 % fresh over dry wood. Basic densities: the wood list of the farm names "
      "its sources."),
  N_ ("Wood x strain: mean of all logs of the kind, with Student's t interval at 95 %, mean +- t "
      "s / sqrt (n), n - 1 degrees of freedom. Picks of whole stacks make logs look more alike "
      "than they are, and the interval narrower than it should be. Textbook statistics."),
  N_ ("Expected by week: what a log lifted from the soak tank gave on average in earlier seasons, "
      "one week after lifting. Expected next season: logs alive at each age times what logs of "
      "that age gave on this farm. How that did in past seasons gives the interval, by Student's "
      "t on the logarithms of picked over expected: J. Aitchison, J. A. C. Brown, The Lognormal "
      "Distribution, 1957 (from memory). Neither knows the weather."),
  N_ ("Logs to inoculate: the larger of what makes up next season but one and what keeps the "
      "yard level, the mass wanted in a season over what a log gives in its life. What logs "
      "older than any on record may still give is not in it. Our own arithmetic."),
  N_ ("Weeks are those of ISO 8601: they begin on Monday, and week 1 holds the year's first "
      "Thursday."),
  N_ ("Wild fungi fruit on old logs, and some of them are poisonous: sell only what is known to be "
      "the mushroom that was inoculated. What must be recorded, and for how long, is set by local "
      "rules and by your certifier; they come before this workbook."),
  NULL,
};

static const BedBlock blocks[] = { { .notes = notes, .sentences = TRUE } };

const BedBookSheet bed_sheet_notes = {
  .name = N_ ("Notes and sources"),
  .question = N_ ("How the figures are worked out, and by whose word."),
  BED_BLOCKS (blocks),
};
