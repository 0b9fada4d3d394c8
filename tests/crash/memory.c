#include "memory.h"

#include <sqlite3.h>

static struct
{
  sqlite3_mem_methods real;
  MemoryLasting lasting;
  guint at, seen, broken;
} memory;

static gboolean
is_out (void)
{
  if (!memory.at)
    return FALSE;
  memory.seen++;
  gboolean out = memory.seen == memory.at
                 || (memory.seen > memory.at && memory.lasting == MEMORY_FROM_THEN_ON);
  memory.broken += out;
  return out;
}

static void *
allocate (int size)
{
  return is_out () ? NULL : memory.real.xMalloc (size);
}

static void *
reallocate (void *block, int size)
{
  return is_out () ? NULL : memory.real.xRealloc (block, size);
}

void
memory_watch (void)
{
  sqlite3_mem_methods methods;

  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_GETMALLOC, &memory.real), ==, SQLITE_OK);
  methods = memory.real;
  methods.xMalloc = allocate;
  methods.xRealloc = reallocate;
  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_MALLOC, &methods), ==, SQLITE_OK);
  /* Small blocks too are asked for one by one. */
  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_LOOKASIDE, 0, 0), ==, SQLITE_OK);
}

void
memory_break (guint at, MemoryLasting lasting)
{
  memory.at = at;
  memory.lasting = lasting;
  memory.seen = memory.broken = 0;
}

guint
memory_get_broken (void)
{
  return memory.broken;
}

guint
memory_get_seen (void)
{
  return memory.seen;
}
