#pragma once

#include "model/farm/edit.h"
#include <gtk/gtk.h>

/* What holds the pages and forms of one farm, and does for them what is not theirs to do: writing
 * with its toast and undo, messages, going elsewhere. The window is one; pages and forms know
 * none. A form that stands in a window of its own (@inside is in it) has the host that window is
 * transient for, if any. */
#define BED_TYPE_HOST (bed_host_get_type ())
G_DECLARE_INTERFACE (BedHost, bed_host, BED, HOST, GtkWidget)

struct _BedHostInterface
{
  GTypeInterface parent_interface;

  gboolean (*commit) (BedHost *self, GtkWindow *over, BedEdit *edit, const char *sentence,
                      GError **error);
  void (*say) (BedHost *self, const char *text);
  void (*say_written) (BedHost *self, const char *text, const char *path);
  void (*say_undo) (BedHost *self);
  void (*show_record) (BedHost *self, BedKind kind, gint64 id);
  void (*show_draft) (BedHost *self, BedRecord *draft, const char *logs);
  gboolean (*bring_cells) (BedHost *self, const char *text, BedKind kind);

  BedFarm *(*get_farm) (BedHost *self);
  void (*set_farm) (BedHost *self, BedFarm *farm);
  gboolean (*open) (BedHost *self, const char *path);
  void (*open_beside) (BedHost *self, const char *path);
  void (*show_beside) (BedHost *self, BedFarm *farm);
};

/* In all of these @inside is any widget in the host. */

/* Commits and says @sentence in a toast with Undo, or that nothing was changed; waits, with a
 * Cancel, while another program holds the farm. FALSE and nothing said when refused: show
 * bed_edit_get_faults() at the fields, and @error for what is not about a field. Without a host
 * (a new farm being made) it commits and says nothing. */
gboolean bed_host_commit (GtkWidget *inside, BedEdit *edit, const char *sentence, GError **error);

/* Removes them (see bed_edit_remove_with()) in one change, with its toast; why not is said. */
gboolean bed_host_remove (GtkWidget *inside, BedFarm *farm, BedKind kind, GArray *ids);
gboolean bed_host_remove_one (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id);

/* A toast; for an error its message. */
void bed_host_say (GtkWidget *inside, const char *text);
void bed_host_say_error (GtkWidget *inside, const GError *error);

/* The same with a button that opens the file at @path, which was written. */
void bed_host_say_written (GtkWidget *inside, const char *text, const char *path);

/* As bed_farm_load(), and why it is NULL is said. */
BedRecord *bed_host_load (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id);

/* What @inside, a widget, shows of the farm: FALSE when it could not be read. */
typedef gboolean (*BedHostRead) (gpointer inside, GError **error);

/* Has it read anew, all of one state, where there is no refresh of a page to say what could not be:
 * that is said. While another program holds the farm it stays as it is. */
void bed_host_read (gpointer inside, BedFarm *farm, BedHostRead read);

/* The last change in a toast with Undo, when the model made it. */
void bed_host_say_undo (GtkWidget *inside);

/* To the page that shows such records, with that one in view. */
void bed_host_show_record (GtkWidget *inside, BedKind kind, gint64 id);

/* To the page of that kind, with its form filled from @draft and the names of the @logs that go
 * with it, of a sale that of the lot; NULL for none. */
void bed_host_show_draft (GtkWidget *inside, BedRecord *draft, const char *logs);

/* Copied cells, rather of that kind, to where sheets come in, and back here when they are in. FALSE
 * where they cannot go. */
gboolean bed_host_bring_cells (GtkWidget *inside, const char *text, BedKind kind);

/* The farm that is shown; borrowed, NULL where there is none. */
BedFarm *bed_host_get_farm (GtkWidget *inside);

/* Shows @farm; NULL: none, so that nobody has the file open. */
void bed_host_set_farm (GtkWidget *inside, BedFarm *farm);

/* Opens the farm at @path in its place, or the window that has it, waiting for another program
 * that holds it; says in words why not. */
gboolean bed_host_open (GtkWidget *inside, const char *path);

/* The same in a window of its own where this one shows a farm. */
void bed_host_open_beside (GtkWidget *inside, const char *path);

/* Shows @farm there. */
void bed_host_show_beside (GtkWidget *inside, BedFarm *farm);
