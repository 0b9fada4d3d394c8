#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

/* Logs bear 3 to 5 years: G. E. Frey, T. Durmus, E. O. Sills, F. Isik, M. M. Comer, HortTechnology
 * 30(6):741-744, 2020; no more are counted on. */
#define LAST_AGE "5"

static const BedBookColumn year_columns[] = {
  BED_COLUMN_OF ("batch.code", 12, .name = "code"),
  BED_COLUMN (N_ ("Season"), YEAR, 10, .name = "season"),
  BED_COLUMN (N_ ("Year of life"), YEAR, 10),
  BED_COLUMN (N_ ("Still to come"), COUNT, 10, .name = "coming"),
  BED_COLUMN (N_ ("Own cost"), MONEY, 12, .name = "cost", BED_SUMMED),
  BED_COLUMN (N_ ("Crop"), MASS, 11, .name = "mass", BED_SUMMED),
  BED_COLUMN (N_ ("At the price of fresh ones"), MONEY_PER_MASS, 13, .name = "price"),
  BED_COLUMN (N_ ("Worth"), MONEY, 12, .name = "worth", .expression = "[mass]*[price]", BED_SUMMED),
  BED_COLUMN (N_ ("Worth less cost"), MONEY, 12, .name = "net", .expression = "[worth]-[cost]",
              BED_SUMMED),
};

/* A season in which nothing was sold fresh has the price of the last before it, or else of the
 * first after it. Logs of a coming year are those alive now, by the share of logs that lives on. */
/* clang-format off */
static const char year_question[] =
  "WITH RECURSIVE price (season, price) AS (SELECT season, income_fresh * 1.0 / sold"
  "   FROM season_past WHERE sold > 0 AND income_fresh > 0),"
  " age (age) AS (SELECT 0 UNION ALL SELECT age + 1 FROM age WHERE age < 60),"
  " made AS (SELECT b.id, b.code, b.inoculated_on, bed_season (b.inoculated_on) AS since"
  "   FROM batch b WHERE b.inoculated_on < ?2),"
  " life AS (SELECT m.*, age, m.since + age AS season FROM made m JOIN age"
  "   WHERE m.since + age <= ?3 OR age <= " LAST_AGE "),"
  " year AS (SELECT l.*, coalesce (y.materials + y.labour, 0) AS cost,"
  "   CASE WHEN l.season <= ?3 THEN coalesce (c.mass, 0)"
  "    ELSE n.lives * g.mass * " BED_ALIVE_AT ("l.age")
  "     / nullif (" BED_ALIVE_AT ("?3 - l.since") ", 0) END AS mass"
  "   FROM life l LEFT JOIN batch_year y ON y.batch = l.id AND y.year = l.age"
  "   LEFT JOIN crop_batch c ON c.batch = l.id AND c.season = l.season"
  "   LEFT JOIN season_batch n ON n.batch = l.id LEFT JOIN log_coming g ON g.age = l.age)"
  " SELECT code, season, age, season > ?3, cost, mass,"
  "  coalesce ((SELECT price FROM price p WHERE p.season <= y.season"
  "    ORDER BY p.season DESC LIMIT 1),"
  "   (SELECT price FROM price p ORDER BY p.season LIMIT 1))"
  " FROM year y WHERE season <= ?3 OR mass > 0 ORDER BY inoculated_on, code, season";
/* clang-format on */

const BedBookSheet bed_sheet_batch_life = {
  .name = N_ ("Batch lives"),
  .question = N_ ("Each batch year by year: what is known first, and what its logs alive may still "
                  "give until their fifth year. Costs still to come are not in it, shared ones "
                  "neither."),
  BED_ONE_TABLE ("Lives", year_columns, year_question),
};

#define OF_BATCH(what, coming)                                                                     \
  "SUMIFS(Lives_" what ",Lives_code,\"=\"&[code],Lives_coming," coming ")"

static const BedBookColumn invest_columns[] = {
  BED_COLUMN_OF ("batch.code", 12, .name = "code"),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN (N_ ("Own cost so far"), MONEY, 12, .name = "cost", BED_SUMMED,
              .expression = OF_BATCH ("cost", "0")),
  BED_COLUMN (N_ ("Crop so far, worth"), MONEY, 12, .name = "worth", BED_SUMMED,
              .expression = OF_BATCH ("worth", "0")),
  BED_COLUMN (N_ ("Balance so far"), MONEY, 12, .name = "balance", BED_SUMMED,
              .expression = "[worth]-[cost]"),
  BED_COLUMN (N_ ("Expected still, worth"), MONEY, 12, .name = "coming", BED_SUMMED,
              .expression = OF_BATCH ("worth", "1")),
  BED_COLUMN (N_ ("Balance of its life"), MONEY, 12, .name = "whole", BED_SUMMED,
              .expression = "[balance]+[coming]"),
};

static const char invest_question[]
    = "SELECT code, inoculated_on FROM batch WHERE inoculated_on < ?2 ORDER BY inoculated_on, code";

const BedBookSheet bed_sheet_invest = {
  .name = N_ ("Investment"),
  .question = N_ ("What was put into each batch, what came of it at the price of fresh mushrooms, "
                  "and what may still come. The steps are on the sheet Batch lives."),
  BED_ONE_TABLE ("Invest", invest_columns, invest_question),
};
