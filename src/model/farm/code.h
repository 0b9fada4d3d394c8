#pragma once

#include "model/farm/farm.h"

/* The codes people read and scan. */

/* `26A`: year of @date, then the next free letters (A..Z, AA…). */
char *bed_code_next_batch (BedFarm *farm, const char *date);

/* `26A-017-K`: @number from 1, check character last. */
char *bed_code_log (const char *batch_code, int number);

/* The next free number of that batch's logs. */
int bed_code_next_log_number (BedFarm *farm, gint64 batch);

/* `L260518-1-4`: the next free lot of that day. */
char *bed_code_next_lot (BedFarm *farm, const char *date);

/* Next free `F26-1`, `S26-1`, `K26-1`… for fellings (F), spawn lots (S), soaks (K), sales (V). */
char *bed_code_next_numbered (BedFarm *farm, BedKind kind, char letter, const char *date);

/* The next code of its kind, where @record has none and is of a kind with codes (code_fill.c). */
void bed_code_fill (BedFarm *farm, BedRecord *record);

/* A log or lot code as typed, made whole: capitals, check character added when
 * left out. NULL with INVALID when the check character is wrong: the sentence
 * names the likely right code. */
char *bed_code_complete (BedKind kind, const char *text, GError **error);
