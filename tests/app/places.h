#pragma once

#include "app_test.h"

#include "app/window/application.h"
#include "app/window/window.h"

/* Every place of the desk that a person can be at, with the demo farm: each page with each of its
 * parts, a record of each kind as it is read, the form of each kind, each dialog. */
typedef struct
{
  char *folder;
  BedFarm *farm;
  BedWindow *window;
  GPtrArray *faults; /* element char *: what is wrong, and where; said at the end */
} Places;

/* In a window of @width x 800. */
Places *places_new (int width);

/* Ends the test, failed when there are faults, which are said. */
void places_end (Places *self);

void places_fault (Places *self, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* @window is the one that is in front. */
typedef void (*PlaceSeen) (Places *self, const char *name, GtkWindow *window);

/* Goes to each of them in turn. */
void places_walk_pages (Places *self, PlaceSeen seen);
void places_walk_records (Places *self, PlaceSeen seen);
void places_walk_forms (Places *self, PlaceSeen seen);
void places_walk_dialogs (Places *self, PlaceSeen seen);
void places_walk_import (Places *self, PlaceSeen seen);
void places_walk_start (Places *self, PlaceSeen seen);

/* Lets what was asked for be laid out and drawn. */
void places_settle (Places *self);

/* Calls @seen (self, widget, data) for each mapped widget in @inside, itself too, parents first. */
typedef void (*PlaceWidget) (Places *self, GtkWidget *widget, gpointer data);
void places_each (Places *self, GtkWidget *inside, PlaceWidget seen, gpointer data);

/* What @window shows, in its size; (transfer full). */
GdkTexture *places_take (GtkWidget *window);

/* Writes it into the folder BEDLOG_PICTURES, when there is one, to be looked at. */
void places_keep_picture (GdkTexture *texture, const char *style, const char *place);

/* "BedTable batches": enough to find it by. Owned by the caller. */
char *places_dup_name (GtkWidget *widget);
