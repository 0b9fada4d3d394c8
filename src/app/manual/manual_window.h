#pragma once

#include <adwaita.h>

/* The manual in a window of its own, beside what it is about, which can be used meanwhile: contents
 * and search at the left, the page at the right. Esc closes it. */
#define BED_TYPE_MANUAL_WINDOW (bed_manual_window_get_type ())
G_DECLARE_FINAL_TYPE (BedManualWindow, bed_manual_window, BED, MANUAL_WINDOW, AdwWindow)

/* From now on F1 in any window opens the page of what is in front: topic.h. */
void bed_manual_begin (void);

/* Opens the page for what is in front in @window; one window of the manual is enough. It goes with
 * the last other one. */
void bed_manual_open_for (GtkWindow *window);
