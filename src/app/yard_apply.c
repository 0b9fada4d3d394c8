#include "app/yard_apply.h"

#include "app/window.h"

gboolean
bed_yard_apply (GtkWidget *inside, BedYardChange *change, GError **error)
{
  g_autoptr (BedYardChange) owned = change;
  g_autoptr (GError) refused = NULL;

  if (!owned)
    {
      bed_window_say_error (inside, *error);
      g_clear_error (error);
      return FALSE;
    }
  if (bed_window_commit (inside, owned->edit, owned->sentence, &refused))
    return TRUE;
  bed_window_say_error (inside, refused);
  return FALSE;
}
