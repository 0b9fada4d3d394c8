#include "app/yard/yard_apply.h"

#include "app/host/host.h"

gboolean
bed_yard_apply (GtkWidget *inside, BedYardChange *change, GError **error)
{
  g_autoptr (BedYardChange) owned = change;
  g_autoptr (GError) refused = NULL;

  if (owned && bed_host_commit (inside, owned->edit, owned->sentence, &refused))
    return TRUE;
  bed_host_say_error (inside, owned ? refused : *error);
  return FALSE;
}
