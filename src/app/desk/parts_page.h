#pragma once

#include "app/desk/browser.h"

/* A page of parts, one seen at a time: most are a list of records, some are made by the page. A
 * subclass is a table of them and what is its own. */
#define BED_TYPE_PARTS_PAGE (bed_parts_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (BedPartsPage, bed_parts_page, BED, PARTS_PAGE, BedPage)

typedef struct
{
  const char *name;
  const char *title; /* N_(); NULL for all of a page without figures and switch */
  GtkWidget *(*make) (BedPartsPage *self); /* NULL: the list */
  BedBrowserSpec list;
} BedPagePart;

struct _BedPartsPageClass
{
  BedPageClass parent_class;

  /* Ends with one without a name. Static. */
  const BedPagePart *parts;
  /* The half of BedPage.refresh that is no list: the figures, and what ->make made; may be NULL. */
  gboolean (*refresh_own) (BedPartsPage *self, GError **error);
  /* What stands beside the switch; may be NULL. */
  GtkWidget *(*make_beside) (BedPartsPage *self);
};

/* The list of that kind; NULL where there is none. */
BedBrowser *bed_parts_page_get_list (BedPartsPage *self, BedKind kind);

/* The kind of the list that is seen (BED_KIND_BIT); 0: it is no list. */
guint64 bed_parts_page_get_kinds (BedPartsPage *self);

/* The name of the part that is seen. */
const char *bed_parts_page_get_seen (BedPartsPage *self);
void bed_parts_page_see (BedPartsPage *self, const char *name);
