#include "rotation_model.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

/* MathProg: rest as a sliding window over the whole season. A split group has
 * logs as its units, a whole one itself. */
static const char model[]
    = "param T; param R; param C; param cs; param cu; set G; set LAG;\n"
      "param units{G}; param size{G}; param kg{G}; param first{G}; param last_{G}; param sh{LAG};\n"
      "param target{1..T}; param open{1..T};\n"
      "var x{g in G, w in 1..T} integer >= 0, <= units[g];\n"
      "var H{1..T} >= 0; var s{1..T} >= 0; var u{1..T} >= 0;\n"
      "minimize cost: sum{w in 1..T} (cs * s[w] + cu * u[w]);\n"
      "s.t. tank{w in 1..T}: sum{g in G} size[g] * x[g,w] <= C;\n"
      "s.t. rest{g in G, w in 1..max(1,T-R+1)}: sum{k in w..min(T,w+R-1)} x[g,k] <= units[g];\n"
      "s.t. window{g in G, w in 1..T: w < first[g] or w > last_[g] or open[w] = 0}: x[g,w] = 0;\n"
      "s.t. harvest{w in 1..T}:\n"
      "  H[w] = sum{g in G, l in LAG: w - l >= 1} size[g] * kg[g] * sh[l] * x[g,w-l];\n"
      "s.t. bal{w in 1..T}: H[w] + s[w] - u[w] = target[w];\n"
      "solve; printf \"COST %.9f\\n\", cost; data;\n";

static void
add_number (GString *text, const char *before, double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (text, before);
  g_string_append (text, g_ascii_dtostr (buffer, sizeof buffer, value));
}

static void
add_groups (GString *text, const BedRotationProblem *problem)
{
  g_string_append (text, "param: G: units size kg first last_ :=\n");
  for (gsize g = 0; g < problem->n_groups; g++)
    {
      const BedRotationGroup *group = &problem->groups[g];
      guint size = group->whole ? group->logs : 1;
      g_string_append_printf (text, "g%" G_GSIZE_FORMAT " %u %u", g, group->logs / size, size);
      add_number (text, " ", group->kg_per_log);
      g_string_append_printf (text, " %u %u\n", group->first_week, group->last_week);
    }
  g_string_append (text, ";\n");
}

static char *
write_model (const BedRotationProblem *problem)
{
  GString *text = g_string_new (model);

  g_string_append_printf (text, "param T := %" G_GSIZE_FORMAT "; param R := %u; param C := %u;\n",
                          problem->n_weeks, problem->rest_weeks, problem->tank_logs);
  add_number (text, "param cs := ", problem->shortfall_weight);
  add_number (text, "; param cu := ", problem->surplus_weight);
  g_string_append (text, ";\nparam: LAG: sh :=");
  for (gsize lag = 0; lag < problem->n_lags; lag++)
    {
      g_string_append_printf (text, " %" G_GSIZE_FORMAT, lag + 1);
      add_number (text, " ", problem->lag_shares[lag]);
    }
  g_string_append (text, ";\nparam: target open :=\n");
  for (gsize week = 0; week < problem->n_weeks; week++)
    {
      g_string_append_printf (text, "%" G_GSIZE_FORMAT, week + 1);
      add_number (text, " ", problem->weeks[week].demand_kg);
      g_string_append (text, problem->weeks[week].closed ? " 0\n" : " 1\n");
    }
  g_string_append (text, ";\n");
  add_groups (text, problem);
  g_string_append (text, "end;\n");
  return g_string_free (text, FALSE);
}

gboolean
model_can_run (void)
{
  g_autofree char *path = g_find_program_in_path ("glpsol");

  return path != NULL;
}

gboolean
model_solve (const BedRotationProblem *problem, ModelKind kind, int seconds, ModelAnswer *answer)
{
  g_autofree char *directory = g_dir_make_tmp ("rotation-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (directory, "rotation.mod", NULL);
  g_autofree char *text = write_model (problem);
  g_autofree char *limit = g_strdup_printf ("%d", seconds);
  g_autofree char *output = NULL;
  const char *argv[]
      = { "glpsol", "--tmlim", limit, "-m", path, kind == MODEL_RELAXED ? "--nomip" : NULL, NULL };

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  gint64 start = g_get_monotonic_time ();
  gboolean ran = g_spawn_sync (NULL, (char **) argv, NULL,
                               G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                               &output, NULL, NULL, NULL);
  answer->seconds = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC;
  g_remove (path);
  g_rmdir (directory);
  const char *cost = ran ? strstr (output, "COST ") : NULL;
  if (cost == NULL)
    return FALSE;
  answer->cost = g_ascii_strtod (cost + strlen ("COST "), NULL);
  answer->proved = strstr (output, "OPTIMAL") != NULL && strstr (output, "TIME LIMIT") == NULL;
  return TRUE;
}
