#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

#define OF_NEXT(what) "SELECT " what " FROM season_coming WHERE season = ?3 + 1"

/* Money from what was sold in a form: what is given away or lost has no price. */
#define GOT(form) "SUMIFS(Sales_price,Sales_form,{line.form." form "},Sales_use,{line.use.sold})"

static const BedBookFigure all_figures[] = {
  BED_FIGURE_HEADING (N_ ("Harvest")),
  BED_FIGURE (N_ ("Season"), YEAR, .name = "Season", .sql = "SELECT ?3"),
  BED_FIGURE_OF ("picked", MASS, .expression = "SUM(Picks_mass)", .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("of it in totals longer than a week"), MASS, .name = "figure_without_week",
              .expression = "ROUND(SUM(Picks_mass)-SUM(Weeks_mass),6)",
              .note = N_ ("months and seasons of which the days are not known")),
  BED_FIGURE_OF ("logs_in_season", COUNT, .expression = "SUM(Logs_in_season)"),
  BED_FIGURE (N_ ("alive at its end"), COUNT, .expression = "SUM(Logs_alive)"),
  BED_FIGURE_OF ("picked_per_log", MASS_PER_LOG,
                 .expression = "SUM(Picks_mass)/SUM(Logs_in_season)"),
  BED_FIGURE (N_ ("Best week"), MASS, .expression = "MAX(Weeks_mass)"),
  BED_FIGURE (N_ ("Expected, by soaks"), MASS, .expression = "SUM(Weeks_expected)"),
  BED_FIGURE_OF ("sold", MASS, .expression = "Mass_sold"),

  BED_FIGURE_HEADING (N_ ("Money")),
  BED_FIGURE_OF ("income", MONEY, .expression = "SUM(Sales_price)", .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Purchases"), MONEY, .name = "Bought", .expression = "SUM(Purchases_cost)"),
  BED_FIGURE (N_ ("Taken from stock"), MONEY, .name = "Stock", .expression = "SUM(Stock_change)"),
  BED_FIGURE (N_ ("Spawn used"), MONEY, .name = "Spawn", .expression = "SUM(Spawn_share)"),
  BED_FIGURE (N_ ("Labour"), MONEY, .name = "Work", .expression = "SUM(Hours_cost)"),
  BED_FIGURE (N_ ("Equipment, depreciation"), MONEY, .name = "Equipment",
              .expression = "SUM(Equipment_charge)"),
  BED_FIGURE_OF ("cost", MONEY, .expression = "Bought+Stock+Spawn+Work+Equipment",
                 .style = BED_STYLE_STRONG),
  BED_FIGURE_OF ("margin", MONEY, .expression = "figure_income-figure_cost",
                 .style = BED_STYLE_STRONG),
  BED_FIGURE_OF ("cost_per_log", MONEY_PER_LOG, .expression = "figure_cost/figure_logs_in_season"),
  BED_FIGURE_OF ("cost_per_kg", MONEY_PER_MASS, .expression = "figure_cost/figure_picked"),
  BED_FIGURE_OF ("price_got_fresh", MONEY_PER_MASS, .expression = GOT ("fresh") "/Mass_sold"),
  BED_FIGURE_OF ("price_got_dried", MONEY_PER_MASS, .expression = GOT ("dried") "/Mass_sold_dried"),
  BED_FIGURE_OF ("price_to_break_even", MONEY_PER_MASS,
                 .expression = "(figure_cost-" GOT ("dried") ")/Mass_sold"),
  BED_FIGURE (N_ ("Left for the work done"), MONEY, .expression = "Return_to_labour"),
  BED_FIGURE (N_ ("the same by hour worked"), MONEY_PER_HOUR,
              .expression = "Return_to_labour/SUM(Hours_hours)"),

  BED_FIGURE_HEADING (N_ ("Work")),
  BED_FIGURE_OF ("hours", HOURS, .expression = "SUM(Hours_hours)"),
  BED_FIGURE_OF ("hours_per_kg", HOURS_PER_MASS, .expression = "figure_hours/figure_picked"),

  BED_FIGURE_HEADING (N_ ("What may come")),
  BED_FIGURE_OF ("expected_week", MASS,
                 .sql = "SELECT expected FROM season_week WHERE monday = date (bed_today (),"
                        " 'weekday 0', '-6 days') AND bed_season (bed_today ()) = ?3"),
  BED_FIGURE_OF ("expected_next_low", MASS, .sql = OF_NEXT ("low")),
  BED_FIGURE_OF ("expected_next", MASS, .sql = OF_NEXT ("expected")),
  BED_FIGURE_OF ("expected_next_high", MASS, .sql = OF_NEXT ("high")),
  BED_FIGURE (N_ ("Wanted in a season"), MASS, .expression = "Wanted"),
  BED_FIGURE (N_ ("Logs to inoculate"), COUNT, .expression = "Logs_wanted/1"),
};

static const BedBlock all_blocks[] = { { BED_BLOCK_FIGURES (all_figures) } };

const BedBookSheet bed_sheet_figures = {
  .name = N_ ("Figures"),
  .question
  = N_ ("Every figure of the season, live over the sheets behind. What each is, is said on "
        "the sheet Notes and sources."),
  BED_BLOCKS (all_blocks),
  .one_page = TRUE,
};

/* The page to pin up: what was wanted, came, was sold, cost and paid, against the season before. */
#define BEFORE(what) .before = "SELECT " what " FROM season_past WHERE season = ?3 - 1"
#define OVER(a, b) a " * 1.0 / nullif (" b ", 0)"
#define COST "(bought + stock + spawn + labour + equipment)"
#define INCOME "(income_fresh + income_dried)"

static const BedBookFigure figures[] = {
  BED_FIGURE_HEADING (N_ ("What was wanted, and what came")),
  BED_FIGURE (N_ ("Wanted in a season"), MASS, .expression = "Wanted"),
  BED_FIGURE (N_ ("Picked"), MASS, .expression = "figure_picked", .style = BED_STYLE_STRONG,
              BEFORE ("picked")),
  BED_FIGURE (N_ ("Logs in the season"), COUNT, .expression = "figure_logs_in_season",
              BEFORE ("logs")),
  BED_FIGURE (N_ ("Each log in the season"), MASS_PER_LOG, .expression = "figure_picked_per_log/1",
              BEFORE (OVER ("picked", "logs"))),
  BED_FIGURE (N_ ("Sold fresh"), MASS, .expression = "figure_sold", BEFORE ("sold")),

  BED_FIGURE_HEADING (N_ ("What it cost, and what it paid")),
  BED_FIGURE (N_ ("Income"), MONEY, .expression = "figure_income", BEFORE (INCOME)),
  BED_FIGURE (N_ ("Bought, and used of stock and spawn"), MONEY, .expression = "Bought+Stock+Spawn",
              BEFORE ("bought + stock + spawn")),
  BED_FIGURE (N_ ("Labour"), MONEY, .expression = "Work", BEFORE ("labour")),
  BED_FIGURE (N_ ("Equipment, depreciation"), MONEY, .expression = "Equipment",
              BEFORE ("equipment")),
  BED_FIGURE (N_ ("Whole cost"), MONEY, .expression = "figure_cost", BEFORE (COST)),
  BED_FIGURE (N_ ("Margin"), MONEY, .expression = "figure_margin", .style = BED_STYLE_STRONG,
              BEFORE (INCOME " - " COST)),
  BED_FIGURE (N_ ("Price received, fresh"), MONEY_PER_MASS,
              .expression = "figure_price_got_fresh/1", BEFORE (OVER ("income_fresh", "sold"))),
  BED_FIGURE (N_ ("Price to break even"), MONEY_PER_MASS,
              .expression = "figure_price_to_break_even/1",
              BEFORE (OVER ("(" COST " - income_dried)", "sold"))),
  BED_FIGURE (N_ ("Hours of work"), HOURS, .expression = "figure_hours", BEFORE ("minutes")),

  BED_FIGURE_HEADING (N_ ("What comes next")),
  BED_FIGURE (N_ ("Expected next season"), MASS, .expression = "figure_expected_next/1"),
  BED_FIGURE (N_ ("Logs to inoculate"), COUNT, .expression = "Logs_wanted/1"),
};

static const BedBlock blocks[] = { { BED_BLOCK_FIGURES (figures), .compared = TRUE } };

#define CHART_WIDTH 500
#define CHART_HEIGHT 230
#define CHART_ROWS 12 /* rows of 21 pixels that a chart and its gap take */

static void
draw (BedBook *book, lxw_worksheet *worksheet, lxw_row_t row)
{
  BedBookChart charts[] = {
    { .title = N_ ("Picked by week"),
      .labels = "Weeks_label",
      .values = "Weeks_mass",
      .expected = "Weeks_expected",
      .cell = BED_BOOK_CELL_MASS,
      .every = 4 },
    { .title = N_ ("Picked by batch this season"),
      .labels = "Batches_code",
      .values = "Batches_mass",
      .cell = BED_BOOK_CELL_MASS },
  };

  for (guint i = 0; i < G_N_ELEMENTS (charts); i++)
    {
      charts[i].row = row + 1 + i * CHART_ROWS;
      charts[i].width = CHART_WIDTH;
      charts[i].height = CHART_HEIGHT;
      bed_book_chart_draw (book, worksheet, &charts[i]);
    }
  bed_book_check (book,
                  worksheet_print_area (worksheet, 0, 0, row + G_N_ELEMENTS (charts) * CHART_ROWS,
                                        BED_COLUMN_BEFORE));
  worksheet_activate (worksheet);
}

const BedBookSheet bed_sheet_summary = {
  .name = N_ ("Summary"),
  .question = N_ ("The season on one page. Every figure of it is live over the sheets behind."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
  .draw = draw,
};
