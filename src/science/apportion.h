#pragma once

#include <glib.h>

/* Dividing an amount so that the parts sum to it exactly.
 *
 * Largest remainder (Hamilton's rule): every share is rounded towards zero and
 * the whole units left over go, one each, to the largest remainders. Where
 * remainders tie, the earlier weight goes first.
 *
 * Source: the rule is common accounting and apportionment practice; the vote
 * example it is checked with is in tests/published. */

/* Divides @total, in whole units of any kind (cents, milligrams), by @weights
 * into @parts; both have @n_weights places. The parts sum to @total, each is
 * within one unit of its exact share, and a negative total is divided as the
 * positive one and the sign put back. A weight of zero gets nothing.
 * Exact for every gint64 total and guint64 weight (128-bit products).
 *
 * Error: no weights, or only zeros. */
gboolean bed_apportion (gint64 total, const guint64 *weights, gsize n_weights, gint64 *parts,
                        GError **error);
