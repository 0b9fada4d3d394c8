#include "app/picking/pick_line.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/caution_line.h"
#include "app/widgets/cells.h"
#include "app/widgets/suggest.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/source.h"
#include "model/farm/value.h"
#include "model/season/pick.h"
#include "model/work/caution.h"
#include "science/language.h"

#define SUGGESTED 6

enum
{
  DAY,
  SOURCE,
  GRADE,
  MASS,
  N_ENTRIES
};

static const struct
{
  const char *label; /* N_() */
  const char *field; /* of pick; NULL: the source is one of three */
  int width;         /* characters */
} entries[N_ENTRIES] = {
  [DAY] = { N_ ("Day"), "picked_on", 11 },
  [SOURCE] = { N_ ("Log, stack or batch"), NULL, 22 },
  [GRADE] = { N_ ("Grade"), "grade", 5 },
  [MASS] = { N_ ("Weight"), "mass", 10 },
};

struct _BedPickLine
{
  BedPart parent_instance;
  BedFarm *farm;
  char *day;
  GtkWidget *line;
  GtkWidget *entries[N_ENTRIES];
  GtkWidget *said;
  BedSuggest *suggest;
  gboolean typed; /* since the last pick that was recorded */
};

static void typing_init (BedTypingInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedPickLine, bed_pick_line, BED_TYPE_PART,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING, typing_init))

static const char *
get_text (BedPickLine *self, int entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entries[entry]));
}

static void
set_text (BedPickLine *self, int entry, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (self->entries[entry]), text);
}

/* --- what is said under the line ------------------------------------------------------ */

static void
say_lot (BedPickLine *self)
{
  g_autofree char *code = bed_pick_dup_lot_code (self->farm, self->day);
  gboolean open = bed_pick_find_lot (self->farm, self->day) != 0;
  g_autofree char *day = bed_date_format_whole (self->day);
  /* Translators: the day that is typed into, and its lot. */
  g_autofree char *text
      = g_strdup_printf (open ? _ ("%s, goes into lot %s") : _ ("%s, opens lot %s"), day, code);

  gtk_widget_remove_css_class (self->said, "error");
  gtk_label_set_label (GTK_LABEL (self->said), text);
}

static void
say_fault (BedPickLine *self, int entry, const char *message)
{
  gtk_widget_add_css_class (self->said, "error");
  gtk_label_set_label (GTK_LABEL (self->said), message);
  gtk_widget_add_css_class (self->entries[entry], "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entries[entry]), GTK_ACCESSIBLE_STATE_INVALID,
                               GTK_ACCESSIBLE_INVALID_TRUE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entries[entry]),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, message, -1);
  gtk_widget_grab_focus (self->entries[entry]);
}

static void
forget_faults (BedPickLine *self)
{
  for (int i = 0; i < N_ENTRIES; i++)
    {
      gtk_widget_remove_css_class (self->entries[i], "error");
      gtk_accessible_reset_state (GTK_ACCESSIBLE (self->entries[i]), GTK_ACCESSIBLE_STATE_INVALID);
      gtk_accessible_reset_property (GTK_ACCESSIBLE (self->entries[i]),
                                     GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
    }
  say_lot (self);
}

/* --- reading the line ---------------------------------------------------------- */

static gboolean
read_source (BedPickLine *self, BedRecord *pick, GError **error)
{
  const char *text = get_text (self, SOURCE);
  BedKind kind;

  if (!*text)
    {
      g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                           _ ("What it was picked from is missing: a log, a stack or a batch."));
      return FALSE;
    }
  gint64 id = bed_source_find (self->farm, text, &kind, error);
  if (id)
    bed_record_set_int (pick, bed_kind_get_info (kind)->name, id);
  return id != 0;
}

static char *
dup_choices (const BedField *field)
{
  GString *words = g_string_new (NULL);

  for (const BedChoice *c = field->choices; c->key; c++)
    g_string_append_printf (words, "%s%s", words->len ? bed_comma () : "", bed_choice_get_word (c));
  return g_string_free (words, FALSE);
}

/* A grade by its key or its word, small letters too: its key, or NULL. */
static const char *
find_grade (const BedField *field, const char *text)
{
  g_autofree char *typed = g_utf8_casefold (text, -1);

  for (const BedChoice *c = field->choices; c->key; c++)
    {
      g_autofree char *key = g_utf8_casefold (c->key, -1);
      g_autofree char *label = g_utf8_casefold (bed_choice_get_word (c), -1);

      if (strcmp (typed, key) == 0 || strcmp (typed, label) == 0)
        return c->key;
    }
  return NULL;
}

/* "210 b": another grade from this pick on, typed where the fingers are. */
static void
take_grade (BedPickLine *self)
{
  const BedField *field = bed_kind_find_field (BED_KIND_PICK, "grade", NULL);
  g_autofree char *text = g_strstrip (g_strdup (get_text (self, MASS)));
  char *last = strrchr (text, ' ');
  const char *grade = last ? find_grade (field, last + 1) : NULL;

  if (!grade)
    return;
  *last = '\0';
  set_text (self, GRADE, grade);
  set_text (self, MASS, text);
}

static gboolean
read_grade (BedPickLine *self, BedRecord *pick, GError **error)
{
  const BedField *field = bed_kind_find_field (BED_KIND_PICK, "grade", NULL);
  g_autofree char *text = g_strstrip (g_strdup (get_text (self, GRADE)));
  g_autofree char *words = dup_choices (field);
  const char *grade = find_grade (field, text);

  if (grade)
    {
      bed_record_set_text (pick, "grade", grade);
      return TRUE;
    }
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
               *text ? _ ("\"%2$s\" is not a grade: %1$s.") : _ ("The grade is missing: %s."),
               words, text);
  return FALSE;
}

static gboolean
read_field (BedPickLine *self, BedRecord *pick, int entry, GError **error)
{
  if (*get_text (self, entry))
    return bed_value_parse (self->farm, pick, entries[entry].field, get_text (self, entry), error);
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, _ ("%s is missing."),
               _ (entries[entry].label));
  return FALSE;
}

static gboolean
read_entry (BedPickLine *self, BedRecord *pick, int entry, GError **error)
{
  switch (entry)
    {
    case SOURCE:
      return read_source (self, pick, error);
    case GRADE:
      return read_grade (self, pick, error);
    default:
      return read_field (self, pick, entry, error);
    }
}

/* Whether the entry can be understood; says so when it cannot. */
static gboolean
check_entry (BedPickLine *self, int entry)
{
  g_autoptr (BedRecord) scratch = bed_record_new (BED_KIND_PICK);
  g_autoptr (GError) error = NULL;

  forget_faults (self);
  if (read_entry (self, scratch, entry, &error))
    return TRUE;
  say_fault (self, entry, error->message);
  return FALSE;
}

/* --- saving -------------------------------------------------------------------- */

static int
entry_of_field (const char *field)
{
  for (int i = 0; i < N_ENTRIES; i++)
    if (field && g_strcmp0 (entries[i].field, field) == 0)
      return i;
  return SOURCE;
}

static void
show_refusal (BedPickLine *self, BedEdit *edit, const GError *error)
{
  GPtrArray *faults = bed_edit_get_faults (edit);

  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      if (fault->severity == BED_FAULT_ERROR)
        {
          say_fault (self, entry_of_field (fault->field), fault->message);
          return;
        }
    }
  say_fault (self, MASS, error->message);
}

static void
take_day (BedPickLine *self)
{
  g_autoptr (BedRecord) scratch = bed_record_new (BED_KIND_PICK);

  if (!read_field (self, scratch, DAY, NULL)
      || g_strcmp0 (bed_record_get_text (scratch, "picked_on"), self->day) == 0)
    return;
  g_free (self->day);
  self->day = g_strdup (bed_record_get_text (scratch, "picked_on"));
  say_lot (self);
  g_signal_emit_by_name (self, "day-changed");
}

static void
save (BedPickLine *self)
{
  g_autoptr (BedRecord) pick = bed_record_new (BED_KIND_PICK);
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autoptr (GError) error = NULL;

  forget_faults (self);
  take_grade (self);
  for (int i = 0; i < N_ENTRIES; i++)
    if (!read_entry (self, pick, i, &error))
      {
        say_fault (self, i, error->message);
        return;
      }
  take_day (self);
  bed_pick_put (self->farm, edit, pick);
  g_autofree char *words = bed_pick_dup_words (self->farm, pick);
  /* Translators: "210 g A from 26A-001-K". */
  g_autofree char *sentence = g_strdup_printf (_ ("Picked %s"), words);
  if (!bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    {
      show_refusal (self, edit, error);
      return;
    }
  set_text (self, SOURCE, "");
  set_text (self, MASS, "");
  self->typed = FALSE;
  say_lot (self);
  gtk_widget_grab_focus (self->entries[SOURCE]);
  g_signal_emit_by_name (self, "picked", bed_record_get_id (pick));
}

/* --- keys ---------------------------------------------------------------------- */

/* Of LIKE a % or _ that is typed would be a pattern. */
#define BEGINS(name) "substr (" name ", 1, length (?1)) = ?1 COLLATE NOCASE"
/* SQL in lines of its own. */
/* clang-format off */
#define NAMES                                                                                      \
  "SELECT 1, id, code, coalesce (stack_name, '') FROM log_today WHERE " BEGINS ("code")            \
  " AND bed_alive (retired_on, bed_today ()) AND batch IS NOT NULL"                                \
  " UNION ALL SELECT 2, id, name, coalesce (batches, '') FROM stack_today"                         \
  " WHERE " BEGINS ("name") " AND taken_down_on IS NULL"                                           \
  " UNION ALL SELECT 3, id, code, coalesce (strain_name, '') FROM batch JOIN batch_spawn"          \
  " ON batch = id WHERE " BEGINS ("code") " LIMIT ?2"
/* clang-format on */

static void
source_changed_cb (BedPickLine *self)
{
  const char *text = get_text (self, SOURCE);
  g_autoptr (GError) error = NULL;

  bed_suggest_clear (self->suggest);
  if (*text
      && gtk_widget_has_focus (
          GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (self->entries[SOURCE])))))
    {
      g_autoptr (BedQuery) q = bed_query_new (self->farm, NAMES);
      bed_query_bind_text (q, 1, text);
      bed_query_bind_int (q, 2, SUGGESTED);
      while (bed_query_next (q))
        bed_suggest_add (self->suggest,
                         &(BedSuggestion){ bed_query_int (q, 0), bed_query_int (q, 1),
                                           bed_query_text (q, 2), bed_query_text (q, 3) });
      if (!bed_query_finish (q, &error))
        bed_host_say_error (GTK_WIDGET (self), error);
    }
  bed_suggest_present (self->suggest);
}

static void
chosen_cb (BedPickLine *self, guint tag, gint64 id, const char *text)
{
  g_signal_handlers_block_by_func (self->entries[SOURCE], source_changed_cb, self);
  set_text (self, SOURCE, text);
  g_signal_handlers_unblock_by_func (self->entries[SOURCE], source_changed_cb, self);
  gtk_editable_set_position (GTK_EDITABLE (self->entries[SOURCE]), -1);
}

/* A whole name is meant as it stands; part of one is the suggestion that is marked. */
static void
enter_source (BedPickLine *self)
{
  g_autoptr (BedRecord) scratch = bed_record_new (BED_KIND_PICK);

  if (!read_source (self, scratch, NULL))
    bed_suggest_take (self->suggest);
  bed_suggest_clear (self->suggest);
  bed_suggest_present (self->suggest);
}

/* The grade is as it was, most often: Enter goes past it. */
static void
activate_cb (GtkWidget *entry, BedPickLine *self)
{
  int at = 0;

  while (self->entries[at] != entry)
    at++;
  if (at == SOURCE)
    enter_source (self);
  if (at == MASS)
    take_grade (self);
  if (!check_entry (self, at))
    return;
  if (at == MASS || (at == GRADE && *get_text (self, MASS)))
    save (self);
  else
    gtk_widget_grab_focus (self->entries[at == DAY ? SOURCE : MASS]);
}

/* What is listed and counted follows each key that makes a day. */
static void
day_typed_cb (BedPickLine *self)
{
  if (*get_text (self, DAY))
    take_day (self);
}

/* --- typing -------------------------------------------------------------------- */

static void
typed_cb (BedPickLine *self)
{
  self->typed = TRUE;
}

static gboolean
pasted_cb (const char *text, gpointer self)
{
  return bed_host_bring_cells (self, text, BED_KIND_PICK);
}

/* Day and grade stand there from pick to pick, and are none by themselves. */
static char *
dup_typing_words (BedTyping *typing)
{
  BedPickLine *self = BED_PICK_LINE (typing);
  gboolean any = *get_text (self, SOURCE) || *get_text (self, MASS);

  return self->typed && any ? bed_typing_dup_half (BED_KIND_PICK) : NULL;
}

static void
typing_init (BedTypingInterface *iface)
{
  iface->dup_words = dup_typing_words;
}

/* --- type ---------------------------------------------------------------------- */

/* At what was picked from; the day, before that, seldom changes. */
static gboolean
bed_pick_line_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (BED_PICK_LINE (widget)->entries[SOURCE]);
}

static void
bed_pick_line_finalize (GObject *object)
{
  g_free (BED_PICK_LINE (object)->day);
  G_OBJECT_CLASS (bed_pick_line_parent_class)->finalize (object);
}

static void
bed_pick_line_class_init (BedPickLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_pick_line_finalize;
  widget_class->grab_focus = bed_pick_line_grab_focus;
  gtk_widget_class_set_css_name (widget_class, "pickline");
  bed_signal_new (BED_TYPE_PICK_LINE, "day-changed", 0);
  bed_signal_new (BED_TYPE_PICK_LINE, "picked", 1, G_TYPE_INT64);
}

static void
bed_pick_line_init (BedPickLine *self)
{
}

static char *
dup_label (BedPickLine *self, int at)
{
  const BedField *field
      = entries[at].field ? bed_kind_find_field (BED_KIND_PICK, entries[at].field, NULL) : NULL;
  const char *unit = field ? bed_value_get_unit (self->farm, field) : "";

  return *unit ? g_strdup_printf ("%s (%s)", _ (entries[at].label), unit)
               : g_strdup (_ (entries[at].label));
}

static void
add_entry (BedPickLine *self, GtkWidget *row, int at)
{
  g_autofree char *label = dup_label (self, at);

  self->entries[at] = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entries[at]), entries[at].width);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entries[at]), entries[at].width);
  bed_named (self->entries[at], _ (entries[at].label));
  g_signal_connect_object (self->entries[at], "activate", G_CALLBACK (activate_cb), self, 0);
  bed_cells_watch (self->entries[at], pasted_cb, self);
  GtkWidget *box
      = bed_column_new (3, bed_words_new (label, "field-label"), self->entries[at], NULL);
  gtk_widget_set_hexpand (box, at == SOURCE);
  gtk_box_append (GTK_BOX (row), box);
}

static void
add_save (BedPickLine *self, GtkWidget *row)
{
  GtkWidget *button = bed_button_new (_ ("Record pick"), G_CALLBACK (save), self);

  gtk_widget_set_valign (button, GTK_ALIGN_END);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_widget_set_tooltip_text (button, _ ("Enter after the weight"));
  gtk_box_append (GTK_BOX (row), button);
}

BedPickLine *
bed_pick_line_new (BedFarm *farm)
{
  BedPickLine *self = g_object_new (BED_TYPE_PICK_LINE, NULL);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->day = g_strdup (bed_farm_get_today (farm));
  for (int i = 0; i < N_ENTRIES; i++)
    add_entry (self, row, i);
  add_save (self, row);
  self->said = bed_words_new (NULL, "message");
  g_autoptr (BedRecord) pick = bed_record_new (BED_KIND_PICK);
  g_autofree char *caution = bed_caution_dup (farm, pick);
  self->line = bed_column_new (3, row, self->said, bed_caution_line_new (caution), NULL);
  bed_part_set_child (BED_PART (self), self->line);
  g_autofree char *shown = bed_date_format (self->day);
  set_text (self, DAY, shown);
  set_text (self, GRADE, bed_kind_find_field (BED_KIND_PICK, "grade", NULL)->choices[0].key);
  self->suggest = bed_suggest_new (GTK_WIDGET (self), self->entries[SOURCE]);
  g_signal_connect_object (self->suggest, "chosen", G_CALLBACK (chosen_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->entries[SOURCE], "changed", G_CALLBACK (source_changed_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->entries[DAY], "changed", G_CALLBACK (day_typed_cb), self,
                           G_CONNECT_SWAPPED);
  bed_entry_hint (self->entries[MASS], _ ("7, or 7 b"));
  gtk_widget_set_tooltip_text (self->entries[MASS],
                               _ ("A grade behind the weight holds from this pick on"));
  for (int i = SOURCE; i < N_ENTRIES; i++)
    g_signal_connect_object (self->entries[i], "changed", G_CALLBACK (typed_cb), self,
                             G_CONNECT_SWAPPED);
  say_lot (self);
  gtk_widget_set_sensitive (self->line, !bed_farm_get_read_only_why (farm));
  return self;
}

const char *
bed_pick_line_get_day (BedPickLine *self)
{
  g_return_val_if_fail (BED_IS_PICK_LINE (self), NULL);
  return self->day;
}

void
bed_pick_line_show_day (BedPickLine *self, const char *day)
{
  g_autofree char *text = bed_date_format (day);

  g_return_if_fail (BED_IS_PICK_LINE (self) && day != NULL);
  set_text (self, DAY, text);
  take_day (self);
}

void
bed_pick_line_fill (BedPickLine *self, BedRecord *pick)
{
  g_return_if_fail (BED_IS_PICK_LINE (self) && BED_IS_RECORD (pick));
  static const char *const fields[] = { "log", "stack", "batch" };
  gboolean typed = self->typed;

  if (bed_record_has (pick, "picked_on"))
    bed_pick_line_show_day (self, bed_record_get_text (pick, "picked_on"));
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    if (bed_record_has (pick, fields[i]))
      {
        g_autofree char *name = bed_value_dup_text (self->farm, pick, fields[i]);
        set_text (self, SOURCE, name);
      }
  self->typed = typed;
  gtk_widget_grab_focus (self->entries[*get_text (self, SOURCE) ? MASS : SOURCE]);
}

void
bed_pick_line_refresh (BedPickLine *self)
{
  g_return_if_fail (BED_IS_PICK_LINE (self));

  if (!gtk_widget_has_css_class (self->said, "error"))
    say_lot (self);
}
