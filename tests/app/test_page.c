/* A page is painted before what takes long is read, and that comes bit by bit with a frame between;
 * a page that is not seen waits. */
#include "app_test.h"

#include "app/desk/page.h"
#include "app/widgets/build.h"

#define TEST_TYPE_PAGE (test_page_get_type ())
G_DECLARE_FINAL_TYPE (TestPage, test_page, TEST, PAGE, BedPage)

struct _TestPage
{
  BedPage parent_instance;
  guint painted;  /* frames, since it is seen */
  guint before;   /* of these, when the last was read */
  GString *asked; /* "0", then "1" and "2" of what comes late */
};

BED_DEFINE_TYPE (TestPage, test_page, BED_TYPE_PAGE)

static void
note (BedPage *page, char what)
{
  TestPage *self = TEST_PAGE (page);

  g_string_append_c (self->asked, what);
  self->before = self->painted;
  gtk_widget_queue_draw (GTK_WIDGET (page)); /* it shows something else now */
}

static gboolean
read_first (BedPage *page, GError **error)
{
  note (page, '0');
  return TRUE;
}

static gboolean
read_late (BedPage *page, GError **error)
{
  TestPage *self = TEST_PAGE (page);

  if (strcmp (self->asked->str, "0") == 0)
    g_assert_cmpuint (self->painted, >=, 1);
  note (page, '1');
  return TRUE;
}

static gboolean
read_later (BedPage *page, GError **error)
{
  TestPage *self = TEST_PAGE (page);

  if (strcmp (self->asked->str, "01") == 0)
    g_assert_cmpuint (self->painted, >, self->before);
  note (page, '2');
  return TRUE;
}

static GtkWidget *
make (BedPage *page)
{
  return gtk_label_new ("A page");
}

static void
test_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TEST_PAGE (widget)->painted++;
  GTK_WIDGET_CLASS (test_page_parent_class)->snapshot (widget, snapshot);
}

static void
test_page_finalize (GObject *object)
{
  g_string_free (TEST_PAGE (object)->asked, TRUE);
  G_OBJECT_CLASS (test_page_parent_class)->finalize (object);
}

static const BedPageRead late[] = { read_late, read_later, NULL };

static void
test_page_class_init (TestPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  page_class->make = make;
  page_class->refresh = read_first;
  page_class->refresh_late = late;
  page_class->kinds = BED_KIND_BIT (BED_KIND_STAND);
  GTK_WIDGET_CLASS (klass)->snapshot = test_page_snapshot;
  G_OBJECT_CLASS (klass)->finalize = test_page_finalize;
}

static TestPage *
page_new (BedFarm *farm)
{
  TestPage *self = g_object_new (TEST_TYPE_PAGE, "farm", farm, NULL);

  self->asked = g_string_new (NULL);
  return self;
}

/* Draws it until it has read so much. */
static void
wait_for (TestPage *page, const char *asked)
{
  for (int i = 0; i < 100 && !g_str_has_prefix (page->asked->str, asked); i++)
    {
      gtk_widget_queue_draw (GTK_WIDGET (page));
      app_settle (20);
    }
  g_assert_cmpstr (page->asked->str, ==, asked);
}

static void
add_stand (BedFarm *farm, const char *name)
{
  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, NULL));
}

static void
test_bit_by_bit (Scene *scene, gconstpointer data)
{
  TestPage *page = page_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (page));

  wait_for (page, "012");
  add_stand (scene->farm, "By the brook");
  app_settle (100);
  g_assert_cmpstr (page->asked->str, ==, "012012"); /* what was shown is shown anew, at once */
  app_close (window, GTK_WIDGET (page));
}

static void
test_unseen (Scene *scene, gconstpointer data)
{
  GtkWidget *stack = gtk_stack_new ();
  TestPage *page = page_new (scene->farm);

  gtk_stack_add_named (GTK_STACK (stack), gtk_label_new ("Another"), "other");
  gtk_stack_add_named (GTK_STACK (stack), GTK_WIDGET (page), "page");
  GtkWidget *window = app_show (stack);
  g_assert_cmpstr (page->asked->str, ==, "");
  /* Left before it was painted: nothing is read of what comes late. */
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "page");
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "other");
  app_settle (200);
  g_assert_cmpuint (page->painted, ==, 0);
  g_assert_cmpstr (page->asked->str, ==, "0");
  add_stand (scene->farm, "By the brook"); /* nor of what changed */
  g_assert_cmpstr (page->asked->str, ==, "0");
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "page");
  wait_for (page, "0012");
  app_close (window, GTK_WIDGET (page));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add ("/page/bit-by-bit", Scene, "metric", scene_set_up, test_bit_by_bit, scene_tear_down);
  g_test_add ("/page/unseen", Scene, "metric", scene_set_up, test_unseen, scene_tear_down);
  return g_test_run ();
}
