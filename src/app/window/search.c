#include "app/window/search.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/suggest.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

#define MOST 12

struct _BedSearch
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *entry;
  BedSuggest *suggest;
};

BED_DEFINE_TYPE (BedSearch, bed_search, BED_TYPE_PART)

/* id, name, detail of what is found by ?1, as it is typed. */
static const struct
{
  BedKind kind;
  const char *sql;
} questions[] = {
  { BED_KIND_BATCH, "SELECT id, code, coalesce (wood_name, '') || ' ' || coalesce (strain_name, '')"
                    " FROM batch_summary"
                    " WHERE bed_found (code || ' ' || coalesce (wood_name, '') || ' '"
                    " || coalesce (strain_name, ''), ?1)" },
  { BED_KIND_LOG, "SELECT id, code, NULL FROM log WHERE bed_found (code, ?1)" },
  { BED_KIND_STACK, "SELECT k.id, k.name, a.name FROM stack k JOIN area a ON a.id = k.area"
                    " WHERE bed_found (k.name, ?1)" },
  { BED_KIND_LOT, "SELECT id, code, picked_on FROM lot WHERE bed_found (code, ?1)" },
  { BED_KIND_SPAWN, "SELECT id, code, strain_name FROM spawn_left"
                    " WHERE bed_found (code || ' ' || strain_name, ?1)" },
  { BED_KIND_FELLING, "SELECT id, code, wood_name FROM felling_summary"
                      " WHERE bed_found (code || ' ' || wood_name, ?1)" },
  { BED_KIND_STAND, "SELECT id, name, grows FROM stand WHERE bed_found (name, ?1)" },
  { BED_KIND_SOAK, "SELECT id, code, put_in FROM soak WHERE bed_found (code, ?1)" },
  { BED_KIND_SALE, "SELECT id, code, sold_on FROM sale WHERE bed_found (code, ?1)" },
  { BED_KIND_BUYER, "SELECT id, name, kind FROM buyer WHERE bed_found (name, ?1)" },
  { BED_KIND_AREA, "SELECT id, name, shade_kind FROM area WHERE bed_found (name, ?1)" },
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

      bed_suggest_add (self->suggest,
                       &(BedSuggestion){ questions[at].kind, bed_query_int (query, 0),
                                         bed_query_text (query, 1), line });
    }
  return bed_query_finish (query, error);
}

static void
search_changed_cb (BedSearch *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  g_autoptr (GError) error = NULL;

  bed_suggest_clear (self->suggest);
  for (guint i = 0; *text && self->farm && i < G_N_ELEMENTS (questions) && !error; i++)
    if (!ask (self, i, text, &error))
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
  g_object_set (self->entry, "placeholder-text", _ ("Find a code or a name"), NULL);
  bed_named (self->entry, _ ("Find a code or a name"));
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
