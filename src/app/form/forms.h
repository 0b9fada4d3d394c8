#pragma once

#include "app/form/form.h"

/* The paper sheets: which fields stand together, kind by kind. NULL for a kind
 * that is not typed in a form of its own. Static. */
const BedFormSpec *bed_forms_get_spec (BedKind kind);

/* The form of such a kind, and of RAIN, which is that of a day. */
BedForm *bed_forms_new (BedFarm *farm, BedKind kind);

/* The form of that kind in @stack, under the kind's name, made when it is first asked for: its
 * "left" calls @left (self) then. Saved it is left, but several weighings are typed at once. */
BedForm *bed_forms_get_in (GtkStack *stack, BedFarm *farm, BedKind kind, GCallback left,
                           gpointer self);

/* "Retired log 26A-017-K: rotted", "Retired 3 logs: rotted"; @log is one of them as it is
 * written. Free with g_free(). */
char *bed_forms_dup_retired (BedRecord *log, guint n_logs);
