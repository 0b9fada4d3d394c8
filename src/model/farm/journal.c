/* A journal holds the pages of a file as they were before a change. Put back into the file it
 * came from, it mends it; put back into a copy that somebody laid in that file's place, it
 * destroys the copy. The first page tells them apart: it counts the changes of the file. */
#include "model/farm/journal.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#define MAGIC "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"
#define HEADER 28  /* bytes of the journal's header in use */
#define COUNTER 24 /* where the first page counts the changes of the file */
#define PAGES 28   /* where it tells how many pages there are */
#define MOST_RECORDS 100000

typedef struct
{
  guint32 records; /* 0xffffffff: as many as the file holds */
  guint32 pages;   /* of the farm before the change */
  guint32 sector;
  guint32 page;
} Header;

static gboolean
read_at (FILE *file, gint64 at, guchar *bytes, gsize n)
{
  return fseeko (file, at, SEEK_SET) == 0 && fread (bytes, 1, n, file) == n;
}

static gboolean
is_power_of_two (guint32 n)
{
  return n && (n & (n - 1)) == 0;
}

/* FALSE when it is none that SQLite would use. */
static gboolean
read_header (FILE *journal, Header *header)
{
  guchar bytes[HEADER];

  if (!read_at (journal, 0, bytes, HEADER) || memcmp (bytes, MAGIC, 8) != 0)
    return FALSE;
  header->records = bed_db_number (bytes + 8);
  header->pages = bed_db_number (bytes + 16);
  header->sector = bed_db_number (bytes + 20);
  header->page = bed_db_number (bytes + 24);
  return is_power_of_two (header->page) && header->page >= 512 && header->page <= 65536
         && is_power_of_two (header->sector) && header->sector >= 32 && header->sector <= 65536;
}

typedef enum
{
  FOUND,   /* the first page as it was */
  ABSENT,  /* so the change had not come to the first page yet */
  UNKNOWN, /* the journal goes on behind a second header */
} FirstPage;

/* Where the journal would go on behind @n records: at the next sector, with a header. */
static gboolean
goes_on (FILE *journal, const Header *header, guint32 n)
{
  gint64 end = header->sector + (gint64) n * (header->page + 8);
  guchar bytes[8];

  end = (end + header->sector - 1) / header->sector * header->sector;
  return n > 0 && read_at (journal, end, bytes, 8) && memcmp (bytes, MAGIC, 8) == 0;
}

/* Looks for the first page among the records before the next header. */
static FirstPage
find_first_page (FILE *journal, const Header *header, guint32 *counter)
{
  guchar number[4], bytes[4];
  guint32 i;

  for (i = 0; i < MIN (header->records, MOST_RECORDS); i++)
    {
      gint64 at = header->sector + (gint64) i * (header->page + 8);

      if (!read_at (journal, at, number, 4) || bed_db_number (number) == 0)
        return ABSENT;
      if (bed_db_number (number) != 1)
        continue;
      if (!read_at (journal, at + 4 + COUNTER, bytes, 4))
        return ABSENT;
      *counter = bed_db_number (bytes);
      return FOUND;
    }
  return i == MOST_RECORDS || goes_on (journal, header, i) ? UNKNOWN : ABSENT;
}

/* The change that was cut off counts one up, at its end; until it comes to the first page, the
 * farm says itself how many pages it had. */
static gboolean
is_foreign (FILE *journal, const Header *header, const guchar *start)
{
  guint32 now = bed_db_number (start + COUNTER), then;

  /* A first page that is none was being written. */
  if (memcmp (start, "SQLite format 3", 16) != 0)
    return FALSE;
  switch (find_first_page (journal, header, &then))
    {
    case FOUND:
      return now != then && now != then + 1;
    case ABSENT:
      return bed_db_number (start + PAGES) != header->pages;
    case UNKNOWN:
    default:
      return FALSE;
    }
}

char *
bed_journal_dup_path (const char *path)
{
  return g_strconcat (path, "-journal", NULL);
}

BedJournalState
bed_journal_look (const char *path, const guchar *start)
{
  g_autofree char *beside = bed_journal_dup_path (path);
  FILE *journal = g_fopen (beside, "rbe");
  BedJournalState state = BED_JOURNAL_NONE;
  Header header;

  if (!journal)
    return BED_JOURNAL_NONE;
  if (read_header (journal, &header))
    state = is_foreign (journal, &header, start) ? BED_JOURNAL_FOREIGN : BED_JOURNAL_OWN;
  (void) fclose (journal); /* nothing was written to it */
  return state;
}
