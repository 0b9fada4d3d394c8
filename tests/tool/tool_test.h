#pragma once

#include <glib.h>

/* Runs bedlog-tool (BEDLOG_TOOL) in a folder of its own. */
typedef struct
{
  char *folder;
  int status; /* of the last run: its exit code */
  char *out, *err;
} Tool;

void tool_set_up (Tool *tool, gconstpointer data);
void tool_tear_down (Tool *tool, gconstpointer data);

/* Words of the command line, ended by NULL. A word that begins with ./ is a file in
 * the folder. */
void tool_run (Tool *tool, ...) G_GNUC_NULL_TERMINATED;

/* The same, in a process whose files may not grow beyond @bytes. */
void tool_run_limited (Tool *tool, gsize bytes, char **words);

/* tool_run and exit code 0; says what it printed when not. */
#define tool_does(tool, ...)                                                                       \
  do                                                                                               \
    {                                                                                              \
      tool_run (tool, __VA_ARGS__, NULL);                                                          \
      if ((tool)->status != 0)                                                                     \
        g_test_message ("%s%s", (tool)->out, (tool)->err);                                         \
      g_assert_cmpint ((tool)->status, ==, 0);                                                     \
    }                                                                                              \
  while (0)

/* tool_run, the exit code, and @words in what it says on standard error. */
#define tool_fails(tool, code, words, ...)                                                         \
  do                                                                                               \
    {                                                                                              \
      tool_run (tool, __VA_ARGS__, NULL);                                                          \
      g_test_message ("%d: %s", (tool)->status, (tool)->err);                                      \
      g_assert_cmpint ((tool)->status, ==, code);                                                  \
      g_assert_nonnull (strstr ((tool)->err, words));                                              \
    }                                                                                              \
  while (0)

char *tool_path (Tool *tool, const char *name);
void tool_write (Tool *tool, const char *name, const char *text);
char *tool_read (Tool *tool, const char *name);
/* SHA-256 of a file. */
char *tool_hash (Tool *tool, const char *name);
