#pragma once

#include "../model/model_test.h"

/* A farm with hostile text in every field that holds any: each kind of the table of fields has a
 * record for each text, and each text field of it holds that text and a mark, "#FFTT", field FF
 * and text TT. Whatever shows a mark must show the text before it, as it was typed. */
typedef struct
{
  Scene scene;
  gint64 (*ids)[BED_N_KINDS]; /* of text and kind; 0 for kinds without text and references */
  guint n_records;
} Plant;

/* What is planted: printable, short enough for any field. */
guint plant_n_texts (void);
const char *plant_text (guint text);

/* Text fields of all kinds that take any text, and those that only take a form of their own. */
guint plant_n_fields (void);
gboolean plant_is_free (BedKind kind, const BedField *field);

void plant_set_up (Plant *plant, gconstpointer data);
void plant_tear_down (Plant *plant, gconstpointer data);

/* The settings, too: the farm's own name and address. */
void plant_rename_farm (Plant *plant, guint text);

/* The text and mark of a field; owned by the caller. */
char *plant_dup_planted (BedKind kind, const char *field, guint text);

/* Asserts that @shown holds marks only behind their texts; how many there are. @where is said
 * when not. Each pair of a field and a text is noted. */
guint plant_check (const char *where, const char *shown);

/* How many different pairs plant_check() has met since it was asked last. */
guint plant_n_met (void);

/* Writes the texts for follow.py, one a line, into @folder; the path, owned by the caller. */
char *plant_write_texts (const char *folder);

/* Runs follow.py with these words, ended by NULL; asserts exit code 0. The number it printed. */
guint plant_follow (const char *first, ...) G_GNUC_NULL_TERMINATED;
