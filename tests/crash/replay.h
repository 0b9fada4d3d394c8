#pragma once

#include "disk.h"

/* What a disk may hold when the current goes off: everything synced, and of the rest whatever
 * the disk had got round to. A name is there for sure only once its folder was synced. */
typedef struct _Replay Replay;

typedef enum
{
  REPLAY_NONE, /* nothing that was not synced */
  REPLAY_ALL,
  REPLAY_SOME, /* by chance: some writes, some sectors of a write, some names, in any order */
} ReplayShare;

typedef struct
{
  ReplayShare contents;
  ReplayShare names;
  GRand *chance; /* for SOME; NULL without */
} ReplayCut;

/* As @folder is now: all of it is on the disk. */
Replay *replay_new (const char *folder);
void replay_free (Replay *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Replay, replay_free)

/* The next thing done to it. */
void replay_do (Replay *self, const DiskEvent *event);

/* Path -> GBytes; a folder ends in "/" and is empty; to be unreffed. */
GHashTable *replay_cut (Replay *self, const ReplayCut *cut);

/* Into the empty or missing @folder. */
void replay_lay_out (GHashTable *files, const char *folder);

/* The same for the same files. */
char *replay_digest (GHashTable *files);
