#pragma once

#include <glib.h>
#include <locale.h>

/* libxlsxwriter prints numbers with the process's decimal mark, which in half of
 * Europe makes a broken file. For as long as one of these is alive this thread
 * (and no other) writes numbers with a point.
 *
 *   g_auto (BedNumericLocale) point = bed_numeric_locale_enter ();
 */
typedef struct
{
  locale_t before;
  locale_t here;
} BedNumericLocale;

static inline BedNumericLocale
bed_numeric_locale_enter (void)
{
  BedNumericLocale self = { .before = uselocale ((locale_t) 0) };

  self.here = newlocale (LC_NUMERIC_MASK, "C", duplocale (self.before));
  uselocale (self.here);
  return self;
}

static inline void
bed_numeric_locale_leave (BedNumericLocale *self)
{
  uselocale (self->before);
  freelocale (self->here);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedNumericLocale, bed_numeric_locale_leave)
