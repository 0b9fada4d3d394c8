#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

/* Bearing years of a log: 3 to 5 in G. E. Frey, T. Durmus, E. O. Sills, F. Isik,
 * M. M. Comer, HortTechnology 30(6):741-744, 2020; the middle is the value to
 * start from. */
#define BEARING_YEARS "4"

#define IN_CATEGORY(key) "SUMIFS(Purchases_cost,Purchases_category,{purchase.category." key "}"
#define OVERHEAD(key) IN_CATEGORY (key) ",Purchases_scope,{purchase.scope.overhead})"

/* What grows with the crop is a variable cost, whatever it was entered for; of the rest,
 * what was entered as overhead is a fixed one. */
#define VARIABLE(label, key)                                                                       \
  BED_FIGURE (label, MONEY, .name = "Cost_" key, .expression = IN_CATEGORY (key) ")")
#define VARIABLE_PART(label, key)                                                                  \
  BED_FIGURE (                                                                                     \
      label, MONEY, .name = "Cost_" key,                                                           \
      .expression = IN_CATEGORY (key) ",Purchases_scope,\"<>\"&{purchase.scope.overhead})")

#define BY_LOG(figure) figure "/SUM(Logs_in_season)"

static const BedBookFigure figures[] = {
  BED_FIGURE_HEADING (N_ ("To be tried with other values")),
  BED_FIGURE (N_ ("Interest on money in equipment and young logs"), PERCENT,
              .name = "Interest_rate", .sql = "SELECT 0", .style = BED_STYLE_INPUT,
              .note = N_ ("a year; the farm's records hold none, so 0 until you write one here")),
  BED_FIGURE (N_ ("Fruiting years of a batch"), COUNT, .name = "Bearing_years",
              .sql = "SELECT " BEARING_YEARS, .style = BED_STYLE_INPUT,
              .note = N_ ("after its first season; 3-5: Frey and others, 2020, see the notes")),

  BED_FIGURE_HEADING (N_ ("Returns")),
  BED_FIGURE (N_ ("Sold fresh"), MONEY, .name = "Income_fresh",
              .expression = "SUMIFS(Sales_price,Sales_form,{line.form.fresh})"),
  BED_FIGURE (N_ ("Sold dried"), MONEY, .name = "Income_dried",
              .expression = "SUMIFS(Sales_price,Sales_form,{line.form.dried})"),
  BED_FIGURE (N_ ("Gross returns"), MONEY, .name = "Gross_returns", .style = BED_STYLE_STRONG,
              .expression = "Income_fresh+Income_dried"),

  BED_FIGURE_HEADING (N_ ("Variable costs")),
  VARIABLE (N_ ("Spawn bought without a lot"), "spawn"),
  VARIABLE (N_ ("Wax"), "wax"),
  VARIABLE_PART (N_ ("Bits and tools"), "tools"),
  VARIABLE (N_ ("Bolts bought"), "logs"),
  VARIABLE_PART (N_ ("Yard and shade"), "yard"),
  VARIABLE (N_ ("Water"), "water"),
  VARIABLE (N_ ("Packaging"), "packaging"),
  VARIABLE_PART (N_ ("Certification"), "certification"),
  VARIABLE (N_ ("Transport"), "transport"),
  VARIABLE_PART (N_ ("Other"), "other"),
  BED_FIGURE (N_ ("Taken from stock"), MONEY, .name = "Cost_stock",
              .expression = "SUM(Stock_change)",
              .note = N_ ("what the sheet Stock has less at its end")),
  BED_FIGURE (N_ ("Spawn used"), MONEY, .expression = "SUM(Spawn_share)"),
  BED_FIGURE (N_ ("Labour, the family's too"), MONEY, .name = "Labour",
              .expression = "SUM(Hours_cost)", .note = N_ ("at the rates entered")),
  BED_FIGURE (N_ ("Variable costs"), MONEY, .name = "Variable_costs", .style = BED_STYLE_STRONG,
              .expression
              = "Cost_spawn+Cost_wax+Cost_tools+Cost_logs+Cost_yard+Cost_water"
                "+Cost_stock+Cost_packaging+Cost_certification+Cost_transport+Cost_other"
                "+SUM(Spawn_share)+Labour"),
  BED_FIGURE (N_ ("Return over variable costs"), MONEY, .name = "Return_over_variable",
              .style = BED_STYLE_STRONG, .expression = "Gross_returns-Variable_costs"),

  BED_FIGURE_HEADING (N_ ("Fixed costs")),
  BED_FIGURE (N_ ("Depreciation of equipment"), MONEY, .name = "Depreciation",
              .expression = "SUM(Equipment_charge)"),
  BED_FIGURE (N_ ("Interest on equipment"), MONEY, .name = "Interest",
              .expression = "SUM(Equipment_capital)*Interest_rate",
              .note = N_ ("on the mean of price and worth at the end")),
  BED_FIGURE (N_ ("Overhead"), MONEY, .name = "Overhead",
              .expression = OVERHEAD ("tools") "+" OVERHEAD ("yard") "+" OVERHEAD (
                  "certification") "+" OVERHEAD ("other"),
              .note = N_ ("tools, yard, certification and other bought for the whole farm")),
  BED_FIGURE (N_ ("Fixed costs"), MONEY, .name = "Fixed_costs", .style = BED_STYLE_STRONG,
              .expression = "Depreciation+Interest+Overhead"),

  BED_FIGURE_HEADING (N_ ("What is left, named after what was not charged")),
  BED_FIGURE (N_ ("Return to management"), MONEY, .name = "Return_to_management",
              .style = BED_STYLE_STRONG, .expression = "Return_over_variable-Fixed_costs"),
  BED_FIGURE (N_ ("Return to labour and management"), MONEY, .name = "Return_to_labour",
              .expression = "Return_to_management+Labour",
              .note = N_ ("what the people who did the work earned with it")),
  BED_FIGURE (N_ ("the same by hour worked"), MONEY_PER_HOUR,
              .expression = "Return_to_labour/SUM(Hours_hours)"),

  BED_FIGURE_HEADING (N_ ("With young batches charged over the years they fruit")),
  BED_FIGURE (N_ ("Making new batches"), MONEY, .name = "Established",
              .expression = "SUM(Making_this_season)",
              .note = N_ ("in the costs above; carried to the years that follow")),
  BED_FIGURE (N_ ("Yearly charge of the fruiting batches"), MONEY, .name = "Establishment_charge",
              .expression = "SUM(Making_charge)",
              .note = N_ ("capital recovery: PMT (interest, years, cost)")),
  BED_FIGURE (N_ ("Return to management, spread"), MONEY, .style = BED_STYLE_STRONG,
              .name = "Return_spread",
              .expression = "Return_to_management+Established-Establishment_charge"),
};

static const BedBookFigure level_figures[] = {
  BED_FIGURE_HEADING (N_ ("The same for each log in the season")),
  BED_FIGURE (N_ ("Gross returns"), MONEY_PER_LOG, .expression = BY_LOG ("Gross_returns")),
  BED_FIGURE (N_ ("Variable costs"), MONEY_PER_LOG, .expression = BY_LOG ("Variable_costs")),
  BED_FIGURE (N_ ("Fixed costs"), MONEY_PER_LOG, .expression = BY_LOG ("Fixed_costs")),
  BED_FIGURE (N_ ("Return to management"), MONEY_PER_LOG, .name = "Return_by_log",
              .expression = BY_LOG ("Return_to_management")),

  BED_FIGURE_HEADING (N_ ("Where money in and out are level")),
  BED_FIGURE (N_ ("Sold fresh"), MASS, .name = "Mass_sold",
              .expression = "SUMIFS(Sales_mass,Sales_form,{line.form.fresh},"
                            "Sales_use,{line.use.sold})"),
  BED_FIGURE (N_ ("Sold dried"), MASS, .name = "Mass_sold_dried",
              .expression = "SUMIFS(Sales_mass,Sales_form,{line.form.dried},"
                            "Sales_use,{line.use.sold})"),
  BED_FIGURE (N_ ("Price received"), MONEY_PER_MASS, .expression = "Income_fresh/Mass_sold"),
  BED_FIGURE (N_ ("Price that pays the variable costs"), MONEY_PER_MASS,
              .expression = "(Variable_costs-Income_dried)/Mass_sold"),
  BED_FIGURE (N_ ("Price that pays all costs"), MONEY_PER_MASS,
              .expression = "(Variable_costs+Fixed_costs-Income_dried)/Mass_sold"),
  BED_FIGURE (N_ ("Mass that pays the variable costs at that price"), MASS,
              .name = "Level_variable",
              .expression = "(Variable_costs-Income_dried)*Mass_sold/Income_fresh"),
  BED_FIGURE (N_ ("Mass that pays all costs at that price"), MASS, .name = "Level_mass",
              .expression = "(Variable_costs+Fixed_costs-Income_dried)*Mass_sold/Income_fresh"),
  BED_FIGURE (N_ ("Margin of safety: how far below what was sold that is"), PERCENT,
              .expression = "(Mass_sold-(Variable_costs+Fixed_costs-Income_dried)*Mass_sold"
                            "/Income_fresh)/Mass_sold"),
};

static const BedBookColumn making_columns[] = {
  BED_COLUMN_OF ("batch.code", 12, .name = "code"),
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Own cost of making it, before this season"), MONEY, 12, .name = "earlier",
              BED_SUMMED),
  BED_COLUMN (N_ ("In this one"), MONEY, 12, .name = "this_season", BED_SUMMED,
              .formula = "IF([since]>=Season,SUMIFS(Costs_direct,Costs_code,\"=\"&[code])"
                         "+SUMIFS(Costs_labour,Costs_code,\"=\"&[code]),0)"),
  BED_COLUMN (N_ ("Charge"), MONEY, 12, .name = "charge", BED_SUMMED,
              .formula = "IF(AND(Season>[since],Season<=[since]+Bearing_years),"
                         "[earlier]*PMT(Interest_rate,Bearing_years,-1),0)"),
};

/* A batch's own cost until the end of the season it was made in: spawn, purchases for it, work on
 * it, also of the winters before. */
static const char making_question[]
    = "WITH entry (batch, day, amount) AS ("
      "  SELECT u.batch, b.inoculated_on, u.cost FROM spawn_share u JOIN batch b ON b.id = u.batch"
      "  UNION ALL SELECT batch, bought_on, cost FROM purchase_paid WHERE scope = 'batch'"
      "  UNION ALL SELECT batch, worked_on, cost FROM hours_paid WHERE batch IS NOT NULL),"
      " made AS (SELECT b.code, b.inoculated_on, bed_season (b.inoculated_on) AS since,"
      "  coalesce (sum (e.amount) FILTER (WHERE e.day < ?1), 0) AS earlier,"
      "  coalesce (sum (e.amount) FILTER (WHERE e.day >= ?1), 0) AS now"
      "  FROM batch b JOIN batch_begun g ON g.batch = b.id LEFT JOIN entry e ON e.batch = b.id"
      "   AND bed_season (e.day) <= bed_season (b.inoculated_on) AND e.day < ?2"
      "  WHERE g.begun_on < ?2 GROUP BY b.id)"
      " SELECT code, since, earlier, now,"
      "  CASE WHEN since < ?3 AND ?3 <= since + " BEARING_YEARS
      "   THEN earlier * 1.0 / " BEARING_YEARS " ELSE 0 END"
      " FROM made ORDER BY inoculated_on, code";

static const BedBlock blocks[] = { { BED_BLOCK_FIGURES (figures) } };

const BedBookSheet bed_sheet_budget = {
  .name = N_ ("Enterprise budget"),
  .question = N_ ("Gross returns less variable costs less fixed costs, in the order lenders and "
                  "farm advisers use."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
};

static const BedBlock level_blocks[] = { { BED_BLOCK_FIGURES (level_figures) } };

const BedBookSheet bed_sheet_level = {
  .name = N_ ("Break-even"),
  .question
  = N_ ("The budget for each log in the season, and the price and the mass at which money "
        "in and out are level."),
  BED_BLOCKS (level_blocks),
  .one_page = TRUE,
};

const BedBookSheet bed_sheet_making = {
  .name = N_ ("Making batches"),
  .question = N_ ("What making each batch cost, and what of it the years it bears are charged."),
  BED_ONE_TABLE ("Making", making_columns, making_question),
};
