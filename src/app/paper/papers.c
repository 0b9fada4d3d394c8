#include "app/paper/papers.h"

#include <glib/gi18n.h>

#include "app/paper/shown.h"
#include "model/farm/value.h"
#include "print/drill/drill_farm.h"
#include "print/drill/drill_guide.h"
#include "print/field/field_sheet_farm.h"
#include "print/field/recall_sheet.h"
#include "print/label/labels_farm.h"
#include "yard/load.h"

#define EMPTY_ROWS 3 /* lines to fill in by hand, after what is known */

typedef enum
{
  LABELS,
  FIELD_SHEET,
  GUIDE,
  MAP,
  RECALL,
  SHOWN,
} Way;

static const struct
{
  const char *title; /* N_() */
  Way way;
  BedKind subject; /* names the file */
  int sheet;       /* FIELD_SHEET: BedPaperKind, LABELS: BedLabelUse, GUIDE: BedGuideExtent */
} prints[] = {
  [BED_PRINT_TAGS] = { N_ ("Log tags"), LABELS, BED_KIND_BATCH, BED_LABEL_TAG },
  [BED_PRINT_TAG] = { N_ ("Log tags"), LABELS, BED_KIND_LOG, BED_LABEL_TAG },
  [BED_PRINT_GUIDE] = { N_ ("Drilling guide"), GUIDE, BED_KIND_BATCH, BED_GUIDE_STRIP },
  [BED_PRINT_GUIDE_BARK]
  = { N_ ("Drilling guide of the whole bark"), GUIDE, BED_KIND_BATCH, BED_GUIDE_BARK },
  [BED_PRINT_INOCULATION]
  = { N_ ("Inoculation day sheet"), FIELD_SHEET, BED_KIND_BATCH, BED_PAPER_INOCULATION },
  [BED_PRINT_WEIGHING] = { N_ ("Weighing sheet"), FIELD_SHEET, BED_KIND_BATCH, BED_PAPER_WEIGHING },
  [BED_PRINT_TALLY] = { N_ ("Felling tally"), FIELD_SHEET, BED_KIND_FELLING, BED_PAPER_FELLING },
  [BED_PRINT_MEASURING]
  = { N_ ("Bolt measuring sheet"), FIELD_SHEET, BED_KIND_FELLING, BED_PAPER_MEASURING },
  [BED_PRINT_SPAWN] = { N_ ("Spawn labels"), LABELS, BED_KIND_SPAWN, BED_LABEL_SPAWN },
  [BED_PRINT_MAP] = { N_ ("Yard map"), MAP, BED_KIND_AREA },
  [BED_PRINT_SIGN] = { N_ ("Sign of the stack"), LABELS, BED_KIND_STACK, BED_LABEL_SIGN },
  [BED_PRINT_SIGNS] = { N_ ("Stack signs"), LABELS, BED_KIND_AREA, BED_LABEL_SIGN },
  [BED_PRINT_MOVES] = { N_ ("Moves sheet"), FIELD_SHEET, BED_KIND_STACK, BED_PAPER_MOVES },
  [BED_PRINT_PLAN] = { N_ ("Planned moves"), FIELD_SHEET, BED_KIND_PLANNED_MOVE, BED_PAPER_PLAN },
  [BED_PRINT_SOAKS] = { N_ ("Soaking sheet"), FIELD_SHEET, BED_KIND_SOAK, BED_PAPER_SOAK },
  [BED_PRINT_CRATES] = { N_ ("Crate labels"), LABELS, BED_KIND_LOT, BED_LABEL_CRATE },
  [BED_PRINT_PICKING] = { N_ ("Picking sheet"), FIELD_SHEET, BED_KIND_STACK, BED_PAPER_PICKING },
  [BED_PRINT_WEEK] = { N_ ("This week"), FIELD_SHEET, 0, BED_PAPER_WEEK },
  [BED_PRINT_DAYS] = { N_ ("Each person's day"), FIELD_SHEET, 0, BED_PAPER_DAY },
  [BED_PRINT_WEIGHING_STACK]
  = { N_ ("Weighing sheet of the stack"), FIELD_SHEET, BED_KIND_STACK, BED_PAPER_WEIGHING },
  [BED_PRINT_RECALL] = { N_ ("Recall"), RECALL, 0, 0 },
  [BED_PRINT_SHOWN] = { N_ ("What the page shows"), SHOWN, 0, 0 },
};

G_STATIC_ASSERT (G_N_ELEMENTS (prints) == BED_N_PRINTS);

static BedPaper
get_paper (BedFarm *farm)
{
  return bed_paper_usual (bed_farm_get_notation (farm)->system);
}

static gboolean
add_tags (BedLabels *labels, BedFarm *farm, GArray *logs, GError **error)
{
  for (guint i = 0; i < logs->len; i++)
    if (!bed_labels_add_tag (labels, farm, g_array_index (logs, gint64, i), error))
      return FALSE;
  return TRUE;
}

static gboolean
add_labels (BedLabels *labels, BedFarm *farm, const BedPrintOffer *offer,
            const BedPrintChoice *choice, GError **error)
{
  BedCrate crate
      = { offer->subject, MAX (choice->copies, 1), choice->mass, offer->day, choice->price };

  switch ((int) offer->what)
    {
    case BED_PRINT_TAGS:
      return offer->logs ? add_tags (labels, farm, offer->logs, error)
                         : bed_labels_add_batch_tags (labels, farm, offer->subject, error);
    case BED_PRINT_TAG:
      return bed_labels_add_tag (labels, farm, offer->subject, error);
    case BED_PRINT_SPAWN:
      return bed_labels_add_spawn (labels, farm, offer->subject, error);
    case BED_PRINT_SIGN:
      return bed_labels_add_signs (labels, farm, offer->subject, error);
    case BED_PRINT_SIGNS:
      return bed_labels_add_area_signs (labels, farm, offer->subject, error);
    case BED_PRINT_CRATES:
      return bed_labels_add_crate (labels, farm, &crate, error);
    default:
      g_return_val_if_reached (FALSE);
    }
}

static BedLabels *
make_labels (BedFarm *farm, const BedPrintOffer *offer, const BedPrintChoice *choice,
             GError **error)
{
  const char *title = offer->what == BED_PRINT_SIGN ? bed_print_title (BED_PRINT_SIGNS)
                                                    : bed_print_title (offer->what);
  g_autoptr (BedLabels) labels = bed_labels_new (title);

  /* As many crates as copies are one lot's together. */
  guint copies = offer->what == BED_PRINT_CRATES ? 1 : MAX (choice->copies, 1);
  for (guint copy = 0; copy < copies; copy++)
    if (!add_labels (labels, farm, offer, choice, error))
      return NULL;
  return g_steal_pointer (&labels);
}

static BedDocument *
make_label_pages (BedFarm *farm, const BedPrintOffer *offer, const BedPrintChoice *choice,
                  GError **error)
{
  BedLabels *labels = make_labels (farm, offer, choice, error);

  return labels ? bed_labels_document_new (labels, choice->sheet, &choice->place, error) : NULL;
}

static BedDocument *
make_field_sheet (BedFarm *farm, const BedPrintOffer *offer, GError **error)
{
  BedFieldSheetRequest request = { .kind = (BedPaperKind) prints[offer->what].sheet,
                                   .paper = get_paper (farm),
                                   .empty_rows = EMPTY_ROWS };

  if (prints[offer->what].subject == BED_KIND_BATCH)
    request.batch = offer->subject;
  else if (prints[offer->what].subject == BED_KIND_FELLING)
    request.felling = offer->subject;
  else if (prints[offer->what].subject == BED_KIND_STACK)
    request.stack = offer->subject;
  request.day = offer->day;
  return bed_field_sheet_document_for_farm (farm, &request, error);
}

static BedDocument *
make_guide (BedFarm *farm, const BedPrintOffer *offer, GError **error)
{
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_BATCH, offer->subject);
  g_autofree char *title = g_strdup_printf (_ ("Drilling guide, batch %s"), code);
  BedDrill drill;
  BedDrillGuide guide = { &drill, bed_farm_get_notation (farm), title, get_paper (farm),
                          (BedGuideExtent) prints[offer->what].sheet };

  if (!bed_drill_read_batch (farm, offer->subject, &drill, error))
    return NULL;
  return bed_drill_guide_new (&guide, error);
}

static BedDocument *
make_map (BedFarm *farm, const BedPrintOffer *offer, const BedPrintChoice *choice, GError **error)
{
  const char *day = offer->day ? offer->day : bed_farm_get_today (farm);
  BedYard *yard = bed_yard_load (farm, offer->subject, day, error);
  g_autofree char *date = bed_date_format (day);
  BedYardMapSpec spec = { .paper = get_paper (farm),
                          .farm = bed_record_get_text (bed_farm_get_settings (farm), "name"),
                          .date = date,
                          .system = bed_farm_get_notation (farm)->system,
                          .colour_by = offer->colour_by,
                          .scale = choice->scale,
                          .elevations = choice->elevations,
                          .stacks = offer->stacks };

  if (yard && !bed_colour_by_read (spec.colour_by, yard, farm, day, error))
    g_clear_pointer (&yard, bed_yard_free);
  return yard ? bed_yard_map_new (yard, &spec, error) : NULL;
}

static BedDocument *
make_recall (BedFarm *farm, const BedPrintOffer *offer, GError **error)
{
  const BedPaper paper = get_paper (farm);

  return bed_recall_sheet_new (farm, &(BedRecallOf){ offer->of, offer->subject, offer->day },
                               &paper, error);
}

static BedDocument *
make_shown (BedFarm *farm, const BedPrintOffer *offer)
{
  const BedPaper paper = get_paper (farm);

  return bed_shown_document_new (farm, offer->shown, offer->day, &paper);
}

const char *
bed_print_title (BedPrint what)
{
  g_return_val_if_fail (what < BED_N_PRINTS, NULL);
  return _ (prints[what].title);
}

gboolean
bed_print_is_label (BedPrint what)
{
  g_return_val_if_fail (what < BED_N_PRINTS, FALSE);
  return prints[what].way == LABELS;
}

BedLabelUse
bed_print_get_use (BedPrint what)
{
  g_return_val_if_fail (bed_print_is_label (what), BED_N_LABEL_USES);
  return (BedLabelUse) prints[what].sheet;
}

BedDocument *
bed_print_make (BedFarm *farm, const BedPrintOffer *offer, const BedPrintChoice *choice,
                GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && offer->what < BED_N_PRINTS, NULL);

  switch (prints[offer->what].way)
    {
    case LABELS:
      return make_label_pages (farm, offer, choice, error);
    case FIELD_SHEET:
      return make_field_sheet (farm, offer, error);
    case GUIDE:
      return make_guide (farm, offer, error);
    case MAP:
      return make_map (farm, offer, choice, error);
    case RECALL:
      return make_recall (farm, offer, error);
    case SHOWN:
      return make_shown (farm, offer);
    }
  g_return_val_if_reached (NULL);
}

guint
bed_print_count_labels (BedFarm *farm, const BedPrintOffer *offer, const BedPrintChoice *choice,
                        GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && bed_print_is_label (offer->what), 0);
  g_autoptr (BedLabels) labels = make_labels (farm, offer, choice, error);

  return labels ? bed_labels_get_n (labels) : 0;
}

char *
bed_print_dup_file_name (BedFarm *farm, const BedPrintOffer *offer)
{
  gboolean recall = offer->what == BED_PRINT_RECALL;
  BedKind kind = recall ? offer->of : prints[offer->what].subject;
  g_autofree char *name = offer->subject ? bed_farm_dup_name (farm, kind, offer->subject) : NULL;
  const char *subject = name ? name : recall ? offer->day : NULL;

  if (offer->what == BED_PRINT_SHOWN)
    return g_strdup (offer->day);
  return subject ? g_strdup_printf ("%s %s", bed_print_title (offer->what), subject)
                 : g_strdup (bed_print_title (offer->what));
}
