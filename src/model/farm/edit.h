#pragma once

#include "model/farm/farm.h"
#include "model/farm/fault.h"

/* The one door for writing. An edit gathers records to add, change and remove,
 * then commits them together with one sentence for people. Commit checks every
 * field and every rule, writes in one transaction, records how to undo it and
 * tells the views; when anything is wrong, nothing is written. */
typedef struct _BedEdit BedEdit;

/* Keeps a reference to @farm; free with bed_edit_free(). */
BedEdit *bed_edit_new (BedFarm *farm);
void bed_edit_free (BedEdit *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedEdit, bed_edit_free)

/* Adds @record when its id is 0 (it gets one now, so that others may refer to
 * it), else changes the stored one to it. Keeps a reference. Missing codes are filled
 * in (next batch, log, lot…). A loaded record is changed in the fields that were changed
 * in it: what others changed meanwhile stays, and is in @record after the commit. One whose
 * id was set from outside overwrites the stored one, or is added when there is none. */
void bed_edit_put (BedEdit *self, BedRecord *record);
void bed_edit_remove (BedEdit *self, BedKind kind, gint64 id);

/* Removes the records of @kind that @ids (element gint64, at least one) name with all that hangs on
 * them, as the table of fields says: what needs one of them or is of nothing else goes, what only
 * names it stays without. The sentence for people, owned by the caller, which counts what goes:
 * "Removed batch 26A with its 24 logs and 12 picks"; NULL and nothing done when one of them is gone
 * (NOT_FOUND) or the farm could not be asked. */
char *bed_edit_remove_with (BedEdit *self, BedKind kind, GArray *ids, GError **error);

/* Everything that is wrong (element BedFault), without writing; owned by the edit. */
GPtrArray *bed_edit_check (BedEdit *self);

/* The same while somebody types: waits for nobody. While another program writes, that is what can
 * be seen in each record and beside its like; what is across records is asked when it is committed.
 * In the moment when the other's change goes to the disk, BUSY: ask again later. */
GPtrArray *bed_edit_try (BedEdit *self);

/* Writes. On a broken rule: INVALID, the first fault as message, all of them in
 * bed_edit_get_faults. CONFLICT at a field that was changed here and elsewhere to different
 * values since the record was loaded, NOT_FOUND when the record was removed elsewhere: see
 * bed_record_rebase() for what to do then. BUSY when another program holds the farm: try again.
 * @sentence is past tense: "Inoculated 24 logs, batch 26A". After it the records are loaded
 * ones. */
gboolean bed_edit_commit (BedEdit *self, const char *sentence, GError **error);

/* An edit of more records than memory should hold, in rounds. Begin takes the lock, which is held
 * until the commit or the check, or bed_edit_free(), which takes all of it back; so nothing is put
 * before. The end of a round writes what was put since the last one, tells its faults in
 * bed_edit_get_faults() and lets new records go: they must not be touched again, nor put a second
 * time. What is across records is asked at the commit, of all rounds; its faults are those of
 * rules and of what was put since the last round, and after a round with an error it is INVALID.
 * Ids of new records follow each other. A record that refers to one that was refused, or to a
 * number below 0, is not written and has no faults: it would only echo those. */
gboolean bed_edit_begin (BedEdit *self, GError **error);
gboolean bed_edit_end_round (BedEdit *self, GError **error);

/* The change in the history that the last commit made, or 0 when it changed nothing. */
gint64 bed_edit_get_change (BedEdit *self);

/* The faults of the last check or commit, warnings too (element BedFault); owned by the edit. */
GPtrArray *bed_edit_get_faults (BedEdit *self);

/* One record, one sentence: put and commit. */
gboolean bed_edit_put_one (BedFarm *farm, BedRecord *record, const char *sentence, GError **error);
