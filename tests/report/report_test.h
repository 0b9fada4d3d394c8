#pragma once

#include "../model/model_test.h"
#include "report/workbook.h"

/* A farm of three batches and three seasons, its clock fixed at 2026-12-01, in
 * a folder of its own. Every kind of record the workbook asks for is in it, and
 * text that a spreadsheet could take for a formula. */
typedef struct
{
  char *folder;
  char *path;
  char *book; /* where a test writes its workbook */
  BedFarm *farm;
} Farm;

/* @units "metric" or "US". */
Farm *farm_new_empty (const char *units);
Farm *farm_new (const char *units);
/* The demo farm at the end of 2026: 120 logs, six seasons. */
Farm *farm_new_demo (void);
void farm_free (Farm *farm);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Farm, farm_free)

/* @n logs of that batch, codes from the model. */
void farm_add_logs (Farm *farm, const char *felling, const char *batch, int n);

/* The workbook of that season, asserting that it was written. */
void farm_write (Farm *farm, int season);

/* Asks xlsx_check.py, which says what there is to ask; asserts that all is well. What it says is
 * returned, owned by the test until its next question. */
const char *farm_check (const char *verb, ...) G_GNUC_NULL_TERMINATED;

/* Runs a program; asserts that it ends with 0. Its output goes to the test's, and
 * is returned, owned by the test until its next run. */
const char *farm_run (const char *first, ...) G_GNUC_NULL_TERMINATED;
