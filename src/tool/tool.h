#pragma once

#include <glib.h>
#include <json-glib/json-glib.h>

#include "model/farm/farm.h"
#include "model/farm/kind.h"

/* bedlog-tool: one file a command. A command prints its result to standard output and
 * what is wrong to standard error, and returns one of: */
enum
{
  BED_EXIT_OK = 0,
  BED_EXIT_WRONG = 1,  /* the data or the usage are wrong; every fault was listed */
  BED_EXIT_FAILED = 2, /* it could not run: no such file, no room, not a farm */
};

typedef struct
{
  const char *name;
  const char *usage;                  /* what follows the name: "FILE DIR" */
  const char *help;                   /* N_(), one line */
  int (*run) (int argc, char **argv); /* argv[0] is the name */
} BedCommand;

/* Ends with a NULL name. */
extern const BedCommand bed_commands[];

/* Reads options and leaves in @argv the name and what is no option. 0 when the command
 * goes on; else the exit code + 1 (help was asked for and printed: BED_EXIT_OK + 1).
 * @n_arguments: how many must be left after the name; -2: one, or two. */
int bed_tool_options (const char *name, const GOptionEntry *entries, int n_arguments, int *argc,
                      char ***argv);

/* The options of a command (element GOptionEntry, without --help; its texts are static, its places
 * are not to be touched); owned by the caller. Every command reads its options first of all. */
GArray *bed_tool_dup_options (const BedCommand *command);

/* Says @error on standard error, frees it, and gives the exit code that fits it. */
int bed_tool_fail (GError *error);

/* Says a mistake in the use of the command on standard error: BED_EXIT_WRONG. */
int bed_tool_misused (const char *format, ...) G_GNUC_PRINTF (1, 2);

/* The same for a word that is no kind of record: names the likely one. */
int bed_tool_unknown_kind (const char *name);

/* Opens the farm, or NULL with @code set and the reason said. */
BedFarm *bed_tool_open (const char *path, int *code);

/* The same to change it: makes the day's backup first, and says on standard error when
 * that cannot be done. */
BedFarm *bed_tool_open_to_write (const char *path, int *code);

/* Prints what @builder holds, ended, and a line end. */
void bed_tool_print_json (JsonBuilder *builder);
/* Prints a list of what @add says of each of @elements. */
void bed_tool_print_list (GPtrArray *elements,
                          void (*add) (JsonBuilder *json, gconstpointer element, gpointer data),
                          gpointer data);
/* A member with a text, null when NULL. */
void bed_tool_json_text (JsonBuilder *builder, const char *name, const char *text);
void bed_tool_json_int (JsonBuilder *builder, const char *name, gint64 value);
/* The number of a record, as text: it has more figures than others keep of a number. */
void bed_tool_json_id (JsonBuilder *builder, const char *name, gint64 id);

/* Whether the word of @field, a choice, is meant, in whatever case: its key, or NULL with the
 * mistake said. */
const char *bed_tool_find_choice (const BedField *field, const char *word);

/* The season that @text names, "2026" or "26"; NULL: the one running. FALSE and said when it is
 * none, or the farm has no record of it. */
gboolean bed_tool_read_season (BedFarm *farm, const char *text, int *season);

/* Where to read what @input names: there, or for "-" standard input. Borrowed. */
const char *bed_tool_input (const char *input);

/* Where to write what -o @output asks for: there, or for "-" into a file of that @name in a folder
 * of its own, of which bed_tool_end_output() makes standard output. */
typedef struct
{
  char *path;
  char *folder; /* NULL: it is @output itself */
} BedToolOutput;

gboolean bed_tool_begin_output (BedToolOutput *to, const char *output, const char *name,
                                GError **error);
/* Clears @to. @code: what writing it came to; the exit code of both. */
int bed_tool_end_output (BedToolOutput *to, int code);
