#pragma once

#include "yard/yard.h"

/* Gives each log of the stack what of its code tells it from the others there (->brief), and the
 * stack what they have in common (->shared): of 26A-017-K and 26A-018-2 "017", "018" and "26A-…".
 * Codes are read in parts between dashes; a check character at the end is said with neither. */
void bed_codes_shorten (BedYardStack *stack);
