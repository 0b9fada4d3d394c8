#include "science/tree.h"

#include <math.h>

#include "science/argument.h"

#define MM_PER_INCH 25.4
#define MM_PER_FOOT 304.8
#define LITRES_PER_FT3 28.316846592
#define MIXED_HARDWOOD 8          /* group of J. C. Jenkins and others, 2003 */
#define FT2_PER_INCH2 0.005454154 /* basal area of a tree one inch through */

/* 1: a D^b H^c. 2: from k = 11 inches on a k^(b-b1) D^b1 H^c. 4: a D^b H^c
 * exp (-b1 D). D inches, H feet, volume cubic feet. */
typedef struct
{
  int model;
  double a;
  double b;
  double b1;
  double c;
} Volume;

typedef struct
{
  int code;
  Volume wood;
  Volume bark;
  double alpha; /* share below h: [1 - (1 - h/H)^alpha]^beta */
  double beta;
} Equation;

/* clang-format off */
/* GTR-WO-104, tables S1, S2 and S4, by species. */
static const Equation by_species[] = {
  { 833, { 1, 0.002362152, 1.874299976, 0, 1.055751972 },                /* northern red oak */
         { 2, 0.00227434, 2.079127272, 1.56244791, 0.564440462 }, 2.437105962, 0.874737567 },
  { 837, { 2, 0.00151444, 2.22320961, 1.883670123, 0.959477251 },        /* black oak */
         { 2, 0.00122725, 1.806258237, 1.559926644, 0.908781323 }, 2.426763441, 0.871633507 },
  { 806, { 4, 0.001385735, 2.176710667, 0.01740908, 1.053132652 },       /* scarlet oak */
         { 4, 0.00483399, 2.181008537, 0.028840573, 0.411787898 }, 2.392050741, 0.856518917 },
  { 832, { 1, 0.001714369, 1.936348905, 0, 1.076702143 },                /* chestnut oak */
         { 4, 0.00365848, 2.092495888, 0.030335414, 0.583862936 }, 2.450485705, 0.908883499 },
  { 802, { 1, 0.002321951, 1.889060817, 0, 1.049599115 },                /* white oak */
         { 2, 0.002857648, 1.987455158, 1.647347191, 0.568545113 }, 2.397656373, 0.835018634 },
  { 835, { 1, 0.003305717, 1.988355446, 0, 0.896401484 },                /* post oak */
         { 2, 0.001349057, 1.68255986, 1.483832045, 0.947720425 }, 2.484033947, 0.855892084 },
  { 318, { 2, 0.00163448, 2.104341893, 1.88866572, 1.035961689 },        /* sugar maple */
         { 1, 0.000758475, 2.080827896, 0, 0.767248478 }, 2.363842996, 0.938627556 },
  { 316, { 1, 0.001983919, 1.810559393, 0, 1.129417635 },                /* red maple */
         { 2, 0.003743084, 2.226890355, 1.685993126, 0.275066356 }, 2.500241064, 0.883741417 },
  { 611, { 1, 0.001893084, 1.915298564, 0, 1.067328281 },                /* sweetgum */
         { 2, 0.001853256, 1.999978352, 1.62847449, 0.676412418 }, 2.283517802, 0.839442814 },
  { 621, { 1, 0.001557686, 1.898952303, 0, 1.118616007 },                /* yellow-poplar */
         { 2, 0.001168292, 1.73262579, 1.693088326, 0.940870668 }, 2.372655682, 0.904388001 },
  { 746, { 2, 0.002627679, 2.004530693, 1.755105144, 0.968856786 },      /* quaking aspen */
         { 1, 0.001185123, 2.163587546, 0, 0.636399076 }, 2.217737025, 0.954474603 },
  { 743, { 1, 0.001733, 1.952649878, 0, 1.09444816 },                    /* bigtooth aspen */
         { 1, 0.017977295, 1.889814647, 0, 0.116481215 }, 2.308099836, 0.96736921 },
  { 375, { 2, 0.003077203, 2.007445989, 1.768143384, 0.932016496 },      /* paper birch */
         { 2, 0.000703292, 1.965289855, 1.779211671, 0.824945635 }, 2.374241255, 0.933325361 },
  { 372, { 1, 0.003420514, 1.933940098, 0, 0.937612533 },                /* sweet birch */
         { 1, 0.001054267, 2.00970169, 0, 0.706389235 }, 2.472498632, 0.905071443 },
  { 531, { 4, 0.00161488, 2.396448915, 0.032188753, 0.967808454 },       /* American beech */
         { 1, 0.002809496, 2.012927857, 0, 0.36486066 }, 2.503712085, 0.922426667 },
  { 762, { 1, 0.001853589, 1.797632465, 0, 1.1701677 },                  /* black cherry */
         { 1, 0.004333606, 1.642114774, 0, 0.580065769 }, 2.43549805, 0.947256313 },
  { 407, { 1, 0.004059511, 1.776091574, 0, 1.019398878 },                /* shagbark hickory */
         { 1, 0.002969141, 1.687370787, 0, 0.579604019 }, 2.411218817, 0.899160986 },
  { 541, { 1, 0.003788303, 1.909085468, 0, 0.927529384 },                /* white ash */
         { 1, 0.000498953, 1.355322827, 0, 1.344908781 }, 2.484769336, 0.930237199 },
  { 544, { 1, 0.004484906, 1.541717812, 0, 1.086752062 },                /* green ash */
         { 1, 0.001108655, 1.746760599, 0, 0.87214416 }, 2.488153286, 0.857884534 },
  { 693, { 1, 0.004379082, 1.944488798, 0, 0.852584831 },                /* blackgum */
         { 1, 0.000972403, 2.109817347, 0, 0.780426687 }, 2.336705332, 0.864944712 },
  { 951, { 2, 0.001590209, 2.081672706, 1.932067041, 1.045752102 },      /* American basswood */
         { 1, 0.000438463, 1.567170618, 0, 1.19476273 }, 2.321775129, 0.950405419 },
};

/* The same tables, by species group. */
static const Equation by_group[] = {
  /* aspen, alder, cottonwood, willow */
  { 6, { 1, 0.003638299, 1.797344245, 0, 1.002439989 },
         { 1, 0.006055511, 2.323948217, 0, 0.168927852 }, 2.247027061, 0.944938402 },
  { 7, { 1, 0.004762398, 2.000019654, 0, 0.824681735 },                  /* soft maple, birch */
         { 1, 0.001806756, 2.094420478, 0, 0.523012456 }, 2.432627082, 0.902678817 },
  { 8, { 1, 0.002340041, 1.894587354, 0, 1.03509406 },                   /* mixed hardwood */
         { 1, 0.001879521, 1.721074102, 0, 0.825002196 }, 2.317280548, 0.846218849 },
  /* hard maple, oak, hickory, beech */
  { 9, { 1, 0.002653263, 1.8973528, 0, 1.015463475 },
         { 1, 0.003935233, 1.728309956, 0, 0.626634668 }, 2.430338526, 0.866173152 },
};
/* clang-format on */

/* NC-RN-309, b5, by species code; the last is that of red oaks and other hardwoods. */
static const struct
{
  int code;
  double b5;
} by_height[] = {
  { 316, 0.85299 }, { 318, 0.83440 }, { 317, 0.83440 }, { 371, 0.82157 }, { 372, 0.82157 },
  { 375, 0.76498 }, { 407, 1.02370 }, { 409, 1.02370 }, { 402, 1.02370 }, { 403, 1.02370 },
  { 404, 1.02370 }, { 531, 0.83560 }, { 541, 0.75822 }, { 543, 0.75822 }, { 544, 0.75822 },
  { 621, 0.75822 }, { 611, 0.75822 }, { 762, 0.75822 }, { 741, 0.73385 }, { 742, 0.73385 },
  { 743, 0.73385 }, { 746, 0.73385 }, { 802, 0.83560 }, { 823, 0.83560 }, { 835, 0.83560 },
  { 806, 0.84317 }, { 827, 0.84317 }, { 830, 0.84317 }, { 832, 0.84317 }, { 804, 0.84317 },
  { 0, 0.82962 },
};

static const Equation *
find_by_group (int group)
{
  for (gsize i = 0; i < G_N_ELEMENTS (by_group); i++)
    if (by_group[i].code == group)
      return &by_group[i];
  return NULL;
}

static const Equation *
find (const BedWood *wood, BedTreeEquation *by)
{
  for (gsize i = 0; i < G_N_ELEMENTS (by_species); i++)
    if (by_species[i].code == wood->code)
      {
        *by = BED_TREE_BY_SPECIES;
        return &by_species[i];
      }
  *by = BED_TREE_BY_GROUP;
  if (find_by_group (wood->group))
    return find_by_group (wood->group);
  *by = BED_TREE_AS_MIXED_HARDWOOD;
  return wood->numbers.basic_density > 0 ? find_by_group (MIXED_HARDWOOD) : NULL;
}

static double
volume (const Volume *v, double d, double h)
{
  const double k = 11; /* hardwood */

  switch (v->model)
    {
    case 2:
      if (d >= k)
        return v->a * pow (k, v->b - v->b1) * pow (d, v->b1) * pow (h, v->c);
      break;
    case 4:
      return v->a * pow (d, v->b) * pow (h, v->c) * exp (-v->b1 * d);
    default:
      break;
    }
  return v->a * pow (d, v->b) * pow (h, v->c);
}

typedef struct
{
  const Equation *equation;
  double height; /* ft */
  double volume; /* over bark, ft3 */
} Stem;

/* Share of the stem's volume below @h feet. */
static double
share_below (const Stem *stem, double h)
{
  double z = pow (CLAMP (1 - h / stem->height, 0, 1), stem->equation->alpha);

  return pow (1 - z, stem->equation->beta);
}

/* Diameter over bark at @h feet, inches: the slope of the share is the section. */
static double
diameter_at (const Stem *stem, double h)
{
  double a = stem->equation->alpha, b = stem->equation->beta, z = 1 - h / stem->height;

  if (z <= 0)
    return 0;
  double slope = a * b * pow (z, a - 1) * pow (1 - pow (z, a), b - 1) / stem->height;
  return sqrt (stem->volume * slope / FT2_PER_INCH2);
}

/* Height at which the stem is @d inches thick, feet; 0 when it is thinner all along.
 * Diameter falls all the way up, so the middle is halved until it is found. */
static double
height_of (const Stem *stem, double d)
{
  double low = 1e-3 * stem->height, high = stem->height;

  if (diameter_at (stem, low) < d)
    return 0;
  for (int i = 0; i < 60; i++)
    {
      double middle = (low + high) / 2;
      if (diameter_at (stem, middle) >= d)
        low = middle;
      else
        high = middle;
    }
  return low;
}

static gboolean
check (const BedTree *tree, GError **error)
{
  return bed_argument_between ("dbh (mm)", tree->dbh, 25, 1500, error)
         && bed_argument_between ("height (mm)", tree->height, 2000, 60000, error)
         && bed_argument_between ("stump (mm)", tree->stump, 20, 2000, error)
         && bed_argument_between ("bolt (mm)", tree->bolt, 100, 10000, error)
         && bed_argument_between ("top (mm)", tree->top, 10, 1500, error);
}

static void
refuse (const BedWood *wood, GError **error)
{
  g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER,
               "wood: nothing is known of %s; give its basic density", wood->name);
}

static void
cut (const Stem *stem, const BedTree *tree, BedTreeYield *yield)
{
  double bolt = tree->bolt / MM_PER_FOOT, stump = tree->stump / MM_PER_FOOT;
  double room = yield->top_height / MM_PER_FOOT - stump;
  int n = (int) MAX (floor (room / bolt + 1e-9), 0);

  for (int i = 0; i < n; i++)
    {
      BedTreeBolt ends = { diameter_at (stem, stump + i * bolt) * MM_PER_INCH,
                           diameter_at (stem, stump + (i + 1) * bolt) * MM_PER_INCH };
      g_array_append_val (yield->bolts, ends);
    }
  yield->bolts_l = (share_below (stem, stump + n * bolt) - share_below (stem, stump)) * stem->volume
                   * LITRES_PER_FT3;
}

/* Public */

BedTreeYield *
bed_tree_yield_new (const BedWood *wood, const BedTree *tree, GError **error)
{
  g_return_val_if_fail (wood != NULL && tree != NULL, NULL);
  BedTreeEquation by;
  const Equation *equation = find (wood, &by);

  if (!check (tree, error))
    return NULL;
  if (equation == NULL)
    {
      refuse (wood, error);
      return NULL;
    }
  double d = tree->dbh / MM_PER_INCH, h = tree->height / MM_PER_FOOT;
  double inside = volume (&equation->wood, d, h), bark = volume (&equation->bark, d, h);
  Stem stem = { equation, h, inside + bark };
  BedTreeYield *yield = g_new0 (BedTreeYield, 1);

  yield->by = by;
  yield->wood_l = inside * LITRES_PER_FT3;
  yield->bark_l = bark * LITRES_PER_FT3;
  yield->top_height = height_of (&stem, tree->top / MM_PER_INCH) * MM_PER_FOOT;
  yield->bolts = g_array_new (FALSE, FALSE, sizeof (BedTreeBolt));
  cut (&stem, tree, yield);
  return yield;
}

gboolean
bed_tree_second_rule (const BedWood *wood, const BedTree *tree, guint *bolts, GError **error)
{
  g_return_val_if_fail (wood != NULL && tree != NULL && bolts != NULL, FALSE);
  BedTreeEquation by;
  gsize i = 0;

  if (!check (tree, error))
    return FALSE;
  if (find (wood, &by) == NULL)
    {
      refuse (wood, error);
      return FALSE;
    }
  while (by_height[i].code && by_height[i].code != wood->code)
    i++;
  double share = 1.00001 - tree->top / tree->dbh, breast = 4.5 * MM_PER_FOOT;
  double height = share > 0 ? breast + (tree->height - breast) * pow (share, by_height[i].b5) : 0;
  *bolts = (guint) MAX (floor ((height - tree->stump) / tree->bolt + 1e-9), 0);
  return TRUE;
}

void
bed_tree_yield_free (BedTreeYield *yield)
{
  if (yield == NULL)
    return;
  g_clear_pointer (&yield->bolts, g_array_unref);
  g_free (yield);
}
