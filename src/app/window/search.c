#include "app/window/search.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/suggest.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"

#define MOST 12

struct _BedSearch
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *entry;
  BedSuggest *suggest;
  guint n_found;
};

BED_DEFINE_TYPE (BedSearch, bed_search, BED_TYPE_PART)

#define NEAR_MOST 3
#define NEAR_AMONG 5000 /* the newest of each kind */

/* What a record is found by, beside its name: SQL texts. */
#define AND(sql) " || ' ' || coalesce (" sql ", '')"
#define NAMED(key, from, also, detail)                                                             \
  "SELECT t.id, t." key ", " detail " FROM " from " t WHERE bed_found (t." key also ", ?1)"
/* Of what has no name: what it is called here. */
#define CALLED(name, from, also, detail)                                                           \
  "SELECT t.id, " name ", " detail " FROM " from " t WHERE bed_found (" name also ", ?1)"
#define OF_LOG(column) "(SELECT code FROM log l WHERE l.id = t." column ")"

/* id, name, detail of what is found by ?1, as it is typed. */
static const struct
{
  BedKind kind;
  const char *sql;
} questions[] = {
  { BED_KIND_BATCH, NAMED ("code", "batch_summary",
                           AND ("t.wood_name") AND ("t.strain_name")
                               AND ("(SELECT notes FROM batch b WHERE b.id = t.id)"),
                           "coalesce (t.wood_name, '') || ' ' || coalesce (t.strain_name, '')") },
  { BED_KIND_LOG, NAMED ("code", "log", AND ("t.mark") AND ("t.notes"), "t.mark") },
  { BED_KIND_STACK,
    NAMED ("name", "stack", AND ("t.notes"), "(SELECT name FROM area a WHERE a.id = t.area)") },
  { BED_KIND_LOT, NAMED ("code", "lot", AND ("t.notes"), "t.picked_on") },
  { BED_KIND_SPAWN,
    NAMED ("code", "spawn",
           AND ("(SELECT name FROM strain s WHERE s.id = t.strain)") AND ("t.supplier")
               AND ("t.supplier_lot") AND ("t.certificate") AND ("t.notes"),
           "coalesce (t.supplier_lot, (SELECT name FROM strain s WHERE s.id = t.strain))") },
  { BED_KIND_FELLING, NAMED ("code", "felling",
                             AND ("(SELECT common_name FROM wood w WHERE w.id = t.wood)")
                                 AND ("t.supplier") AND ("t.felled_by") AND ("t.notes"),
                             "(SELECT common_name FROM wood w WHERE w.id = t.wood)") },
  { BED_KIND_STAND,
    NAMED ("name", "stand", AND ("t.grows") AND ("t.owner") AND ("t.permission") AND ("t.notes"),
           "t.grows") },
  { BED_KIND_SOAK, NAMED ("code", "soak", AND ("t.tank") AND ("t.notes"), "t.put_in") },
  { BED_KIND_SALE,
    NAMED ("code", "sale", AND ("(SELECT name FROM buyer b WHERE b.id = t.buyer)") AND ("t.notes"),
           "t.sold_on") },
  { BED_KIND_BUYER, NAMED ("name", "buyer", AND ("t.contact"), "t.contact") },
  { BED_KIND_AREA,
    NAMED ("name", "area", AND ("t.water_source") AND ("t.notes"), "t.water_source") },
  { BED_KIND_FEATURE,
    NAMED ("label", "feature", AND ("bed_choice_word ('feature', 'kind', t.kind)"),
           "(SELECT name FROM area a WHERE a.id = t.area)") },
  { BED_KIND_STRAIN, NAMED ("name", "strain", AND ("t.notes"),
                            "(SELECT common_name FROM mushroom m WHERE m.id = t.mushroom)") },
  { BED_KIND_MUSHROOM,
    NAMED ("common_name", "mushroom", AND ("t.latin_name") AND ("t.notes"), "t.latin_name") },
  { BED_KIND_WOOD, NAMED ("common_name", "wood", AND ("t.latin_name"), "t.latin_name") },
  { BED_KIND_PURCHASE,
    NAMED ("what", "purchase", AND ("t.supplier") AND ("t.notes"), "t.bought_on") },
  { BED_KIND_EQUIPMENT, NAMED ("what", "equipment", , "t.bought_on") },
  { BED_KIND_DUE, NAMED ("what", "due", AND ("t.subject") AND ("t.why"), "t.due_on") },
  { BED_KIND_HOURS, CALLED ("bed_choice_word ('hours', 'task', t.task)", "hours",
                            AND ("t.person") AND ("t.notes"), "t.worked_on") },
  { BED_KIND_CHECK, CALLED ("coalesce (t.notes, t.action, t.animals)", "\"check\"",
                            AND ("t.action") AND ("t.animals"), "t.checked_on") },
  { BED_KIND_WEIGHING, CALLED ("t.notes", "weighing", AND (OF_LOG ("log")), "t.weighed_on") },
  { BED_KIND_PICK, CALLED ("coalesce (t.notes, t.picker)", "pick",
                           AND ("t.picker") AND (OF_LOG ("log")), "t.picked_on") },
};

static gboolean
ask (BedSearch *self, guint at, const char *text, GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM (%s LIMIT 200) ORDER BY 2 LIMIT %d",
                                          questions[at].sql, MOST);
  g_autoptr (BedQuery) query = NULL;
  const char *word = _ (bed_kind_get_info (questions[at].kind)->singular);

  query = bed_query_new (self->farm, sql);
  bed_query_bind_text (query, 1, text);
  while (bed_query_next (query))
    {
      const char *detail = bed_query_text (query, 2);
      g_autofree char *line = detail && *detail ? g_strdup_printf ("%s · %s", word, detail)
                                                : g_strdup (word);

      self->n_found++;
      bed_suggest_add (self->suggest,
                       &(BedSuggestion){ questions[at].kind, bed_query_int (query, 0),
                                         bed_query_text (query, 1), line });
    }
  return bed_query_finish (query, error);
}

/* --- nothing found --------------------------------------------------------------- */

typedef struct
{
  BedKind kind;
  gint64 id;
  char *name;
  guint distance;
} Near;

static void
clear_near (gpointer near)
{
  g_free (((Near *) near)->name);
}

/* A log or lot may be called without its check character, and "oak" is called for by "aok". */
static guint
find_distance (BedKind kind, const char *text, const char *name)
{
  guint least = bed_near_distance (text, name);
  gsize n = strlen (name);

  for (const char *word = strchr (name, ' '); word; word = strchr (word + 1, ' '))
    least = MIN (least, bed_near_distance (text, word + 1));
  if ((kind != BED_KIND_LOG && kind != BED_KIND_LOT) || n < 3)
    return least;
  g_autofree char *short_name = g_strndup (name, n - 2);
  return MIN (least, bed_near_distance (text, short_name));
}

static void
keep_nearest (GArray *nearest, const Near *near)
{
  guint at = 0;

  while (at < nearest->len && g_array_index (nearest, Near, at).distance <= near->distance)
    at++;
  if (at == NEAR_MOST)
    return;
  Near kept = *near;
  kept.name = g_strdup (near->name);
  g_array_insert_val (nearest, at, kept);
  if (nearest->len > NEAR_MOST)
    g_array_set_size (nearest, NEAR_MOST);
}

static gboolean
gather_near (BedSearch *self, BedKind kind, const char *text, GArray *nearest, GError **error)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql = g_strdup_printf ("SELECT id, \"%s\" FROM \"%s\" ORDER BY id DESC LIMIT %d",
                                          info->key, info->name, NEAR_AMONG);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);
  guint most = MAX (strlen (text) / 3, 1);

  while (bed_query_next (q))
    {
      Near near = { kind, bed_query_int (q, 0), (char *) bed_query_text (q, 1), 0 };

      near.distance = find_distance (kind, text, near.name);
      if (near.distance <= most)
        keep_nearest (nearest, &near);
    }
  return bed_query_finish (q, error);
}

/* "26A-12" is 26A-012, as tags have it. */
static char *
dup_padded (const char *text)
{
  const char *last = strrchr (text, '-');
  gsize n = last ? strspn (last + 1, "0123456789") : 0;

  if (n == 0 || n > 2 || last[n + 1])
    return g_strdup (text);
  return g_strdup_printf ("%.*s-%0*d", (int) (last - text), text, 3, atoi (last + 1));
}

static gboolean
offer_near (BedSearch *self, const char *typed, GError **error)
{
  g_autoptr (GArray) nearest = g_array_new (FALSE, FALSE, sizeof (Near));
  g_autofree char *text = dup_padded (typed);
  g_autofree char *said = g_strdup_printf (_ ("Nothing found for “%s”."), typed);
  gboolean read = TRUE;

  g_array_set_clear_func (nearest, clear_near);
  for (guint i = 0; i < G_N_ELEMENTS (questions) && read; i++)
    if (bed_kind_get_info (questions[i].kind)->key)
      read = gather_near (self, questions[i].kind, text, nearest, error);
  bed_suggest_say (self->suggest, said);
  for (guint i = 0; i < nearest->len; i++)
    {
      const Near *near = &g_array_index (nearest, Near, i);
      g_autofree char *line = g_strdup_printf (
          /* Translators: a kind of record. */
          _ ("Did you mean this? (%s)"), _ (bed_kind_get_info (near->kind)->singular));

      bed_suggest_add (self->suggest, &(BedSuggestion){ near->kind, near->id, near->name, line });
    }
  return read;
}

static void
search_changed_cb (BedSearch *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (GError) error = NULL;

  bed_suggest_clear (self->suggest);
  self->n_found = 0;
  for (guint i = 0; *text && self->farm && i < G_N_ELEMENTS (questions) && !error; i++)
    ask (self, i, text, &error);
  if (*text && self->farm && !error && self->n_found == 0)
    offer_near (self, text, &error);
  if (error)
    bed_host_say_error (GTK_WIDGET (self), error);
  bed_suggest_present (self->suggest);
}

static void
activate_cb (BedSearch *self)
{
  search_changed_cb (self);
  bed_suggest_take (self->suggest);
}

static void
chosen_cb (BedSearch *self, guint tag, gint64 id)
{
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  g_signal_emit_by_name (self, "found", tag, id);
}

static void
stop_search_cb (BedSearch *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  gtk_widget_child_focus (GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self))),
                          GTK_DIR_TAB_FORWARD);
}

static gboolean
bed_search_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (BED_SEARCH (widget)->entry);
}

static void
bed_search_dispose (GObject *object)
{
  g_clear_object (&BED_SEARCH (object)->farm);
  G_OBJECT_CLASS (bed_search_parent_class)->dispose (object);
}

static void
bed_search_class_init (BedSearchClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_search_dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = bed_search_grab_focus;
  bed_signal_new (BED_TYPE_SEARCH, "found", 2, G_TYPE_UINT, G_TYPE_INT64);
}

BedSearch *
bed_search_new (void)
{
  BedSearch *self = g_object_new (BED_TYPE_SEARCH, NULL);

  self->entry = gtk_search_entry_new ();
  g_object_set (self->entry, "placeholder-text", _ ("Find a code, a name or a note"),
                "tooltip-text", _ ("Find a code, a name or a note"), NULL);
  bed_named (self->entry, _ ("Find a code, a name or a note"));
  bed_part_set_child (BED_PART (self), self->entry);
  self->suggest = bed_suggest_new (GTK_WIDGET (self), self->entry);
  g_signal_connect_swapped (self->entry, "search-changed", G_CALLBACK (search_changed_cb), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect_swapped (self->entry, "stop-search", G_CALLBACK (stop_search_cb), self);
  g_signal_connect_swapped (self->suggest, "chosen", G_CALLBACK (chosen_cb), self);
  return self;
}

void
bed_search_set_farm (BedSearch *self, BedFarm *farm)
{
  g_return_if_fail (BED_IS_SEARCH (self));
  g_set_object (&self->farm, farm);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
}
