#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookFigure figures[] = {
  BED_FIGURE_HEADING (N_ ("Crop")),
  BED_FIGURE (N_ ("Season"), YEAR, .name = "Season", .sql = "SELECT ?3"),
  BED_FIGURE (N_ ("Picked"), MASS, .name = "Picked", .expression = "SUM(Picks_mass)",
              .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Logs in the season"), COUNT, .name = "Logs_standing",
              .expression = "SUM(Logs_in_season)"),
  BED_FIGURE (N_ ("alive at its end"), COUNT, .expression = "SUM(Logs_alive)"),
  BED_FIGURE (N_ ("Picked from each log"), MASS_PER_LOG, .name = "Picked_per_log",
              .expression = "SUM(Picks_mass)/SUM(Logs_in_season)"),
  BED_FIGURE (N_ ("Best week"), MASS, .expression = "MAX(Weeks_mass)"),
  BED_FIGURE (N_ ("Expected, by soaks"), MASS, .expression = "SUM(Weeks_expected)"),
  BED_FIGURE (N_ ("Sold fresh"), MASS, .expression = "Mass_sold"),

  BED_FIGURE_HEADING (N_ ("Money")),
  BED_FIGURE (N_ ("Income"), MONEY, .name = "Income", .expression = "SUM(Sales_price)",
              .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Purchases"), MONEY, .name = "Bought", .expression = "SUM(Purchases_amount)"),
  BED_FIGURE (N_ ("Spawn used"), MONEY, .name = "Spawn", .expression = "SUM(Spawn_share)"),
  BED_FIGURE (N_ ("Labour"), MONEY, .name = "Work", .expression = "SUM(Hours_cost)"),
  BED_FIGURE (N_ ("Equipment, depreciation"), MONEY, .name = "Equipment",
              .expression = "SUM(Equipment_charge)"),
  BED_FIGURE (N_ ("Whole cost"), MONEY, .name = "Cost", .expression = "Bought+Spawn+Work+Equipment",
              .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Margin"), MONEY, .name = "Margin", .expression = "Income-Cost",
              .style = BED_STYLE_STRONG),
  BED_FIGURE (N_ ("Cost of a log"), MONEY_PER_LOG, .name = "Cost_per_log",
              .expression = "Cost/Logs_standing"),
  BED_FIGURE (N_ ("Cost of what was picked"), MONEY_PER_MASS, .name = "Cost_per_mass",
              .expression = "Cost/Picked"),
  BED_FIGURE (N_ ("Price got, fresh"), MONEY_PER_MASS, .expression = "Income_fresh/Mass_sold"),
  BED_FIGURE (N_ ("Left for the work done"), MONEY, .expression = "Return_to_labour"),
  BED_FIGURE (N_ ("the same by hour worked"), MONEY_PER_HOUR,
              .expression = "Return_to_labour/SUM(Hours_hours)"),

  BED_FIGURE_HEADING (N_ ("Work")),
  BED_FIGURE (N_ ("Hours"), HOURS, .name = "Hours_worked", .expression = "SUM(Hours_hours)"),
  BED_FIGURE (N_ ("Hours for what was picked"), HOURS_PER_MASS,
              .expression = "Hours_worked/Picked"),

  BED_FIGURE_HEADING (N_ ("Next season")),
  BED_FIGURE (N_ ("Expected, by age of logs"), MASS, .expression = "Forecast"),
  BED_FIGURE (N_ ("nine times in ten above"), MASS, .expression = "Forecast_low/1"),
  BED_FIGURE (N_ ("Wanted in a season"), MASS, .expression = "Wanted"),
  BED_FIGURE (N_ ("Logs to inoculate"), COUNT, .expression = "Logs_wanted/1"),
};

static const BedBlock blocks[] = { { BED_BLOCK_FIGURES (figures) } };

#define CHART_COLUMN 3
#define CHART_WIDTH 640
#define CHART_HEIGHT 282
#define CHART_ROWS 14 /* rows of 21 pixels that a chart and its gap take */
#define LAST_COLUMN 13

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
    { .title = N_ ("Whole cost by batch"),
      .labels = "Costs_code",
      .values = "Costs_total",
      .cell = BED_BOOK_CELL_MONEY },
  };

  for (guint i = 0; i < G_N_ELEMENTS (charts); i++)
    {
      charts[i].row = 3 + i * CHART_ROWS;
      charts[i].column = CHART_COLUMN;
      charts[i].width = CHART_WIDTH;
      charts[i].height = CHART_HEIGHT;
      bed_book_chart_draw (book, worksheet, &charts[i]);
    }
  bed_book_check (
      book, worksheet_print_area (worksheet, 0, 0, MAX (row, 3 + 3 * CHART_ROWS), LAST_COLUMN));
  worksheet_set_landscape (worksheet);
  worksheet_activate (worksheet);
}

const BedBookSheet bed_sheet_summary = {
  .name = N_ ("Summary"),
  .question = N_ ("The season on one page. Every figure is a live formula over the sheets behind."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
  .draw = draw,
};
