#pragma once

#include "model/farm/kinds.h"
#include <glib/gi18n-lib.h>

/* What a field of choices can be, for the table of fields alone: the key that is stored, and the
 * word for it. */

#define CHOICES(name, ...) static const BedChoice name[] = { __VA_ARGS__, { NULL, NULL } }

CHOICES (unit_systems, { "metric", N_ ("metric") }, { "US", N_ ("US") });
CHOICES (hemispheres, { "north", N_ ("north") }, { "south", N_ ("south") });
CHOICES (bases, { "wet", N_ ("wet basis") }, { "dry", N_ ("dry basis") });
CHOICES (suits, { "good", N_ ("good") }, { "fair", N_ ("fair") }, { "poor", N_ ("poor") });
CHOICES (tree_conditions, { "healthy", N_ ("healthy") }, { "storm-thrown", N_ ("storm-thrown") },
         { "dead", N_ ("dead") });
CHOICES (leaf_states, { "dormant", N_ ("dormant") }, { "bud swell", N_ ("bud swell") },
         { "in leaf", N_ ("in leaf") }, { "leaf fall", N_ ("leaf fall") });
CHOICES (methods, { "drilled", N_ ("drilled") }, { "totem", N_ ("totem") },
         { "wedge", N_ ("wedge") });
CHOICES (strain_types, { "cold-weather", N_ ("cold-weather") }, { "wide-range", N_ ("wide-range") },
         { "warm-weather", N_ ("warm-weather") });
CHOICES (spawn_forms, { "sawdust", N_ ("sawdust") }, { "dowel", N_ ("dowel") },
         { "thimble", N_ ("thimble") }, { "grain", N_ ("grain") });
CHOICES (yes_no, { "yes", N_ ("yes") }, { "no", N_ ("no") });
CHOICES (write_offs, { "straight line", N_ ("straight line") },
         { "declining 150", N_ ("declining balance, 150 %") },
         { "declining 200", N_ ("declining balance, 200 %") },
         { "years' digits", N_ ("sum of the years' digits") });
CHOICES (closings, { "nearest", N_ ("any number") }, { "even", N_ ("even number") },
         { "helical", N_ ("spiral") });
CHOICES (waxes, { "paraffin", N_ ("paraffin") }, { "beeswax", N_ ("beeswax") },
         { "soy wax", N_ ("soy wax") }, { "cheese wax", N_ ("cheese wax") },
         { "other", N_ ("other") });
CHOICES (barks, { "sound", N_ ("sound") }, { "damaged", N_ ("damaged") });
CHOICES (bark_checks, { "sound", N_ ("sound") }, { "loose", N_ ("loose") },
         { "cracked", N_ ("cracked") }, { "lost", N_ ("lost") });
CHOICES (retirements, { "spent", N_ ("spent") }, { "rotted", N_ ("rotted") },
         { "weed fungus", N_ ("overrun by a weed fungus") }, { "bark lost", N_ ("bark lost") },
         { "sold", N_ ("sold") }, { "lost", N_ ("lost") });
CHOICES (shades, { "trees", N_ ("trees") }, { "conifers", N_ ("conifers") },
         { "shade cloth", N_ ("shade cloth") }, { "building", N_ ("building") },
         { "none", N_ ("none") });
CHOICES (waters, { "pond", N_ ("pond") }, { "stream", N_ ("stream") }, { "tap", N_ ("tap") },
         { "well", N_ ("well") }, { "rain", N_ ("rain water") }, { "tank", N_ ("tank") });
CHOICES (feature_kinds, { "tree", N_ ("tree") }, { "path", N_ ("path") }, { "pond", N_ ("pond") },
         { "tank", N_ ("tank") }, { "tap", N_ ("tap") }, { "fence", N_ ("fence") },
         { "building", N_ ("building") }, { "shade cloth", N_ ("shade cloth") });
CHOICES (stack_kinds, { "dead", N_ ("dead stack") }, { "crib", N_ ("crib") },
         { "lean-to", N_ ("lean-to") }, { "A-frame", N_ ("A-frame") },
         { "upright row", N_ ("upright row") }, { "ground row", N_ ("ground row") },
         { "totem", N_ ("totem") });
CHOICES (forms, { "point", N_ ("a point") }, { "disc", N_ ("a circle") },
         { "box", N_ ("a rectangle") }, { "band", N_ ("a strip along points") },
         { "polygon", N_ ("corners") });
/* W.-C. Bak, H. Kwon, Mushroom Growers' Handbook 2: Shiitake Cultivation, MushWorld, 2005,
 * p. 152. */
CHOICES (weeds, { "Trichoderma", N_ ("green mould (Trichoderma): damp, little air") },
         { "Trametes", N_ ("turkey tail (Trametes): damp") },
         { "Schizophyllum", N_ ("split gill (Schizophyllum): sun, dry") },
         { "Stereum", N_ ("Stereum: dry, old wood") },
         { "Hypoxylon", N_ ("Hypoxylon: dry, heat, stressed trees") },
         { "Hypocrea", N_ ("Hypocrea: dry") }, { "Diatrype", N_ ("Diatrype: dry") },
         { "Bulgaria", N_ ("Bulgaria: hot and damp") },
         { "Inonotus", N_ ("Inonotus: hot and damp") }, { "other", N_ ("other") });
CHOICES (severities, { "trace", N_ ("trace") }, { "some", N_ ("some") }, { "heavy", N_ ("heavy") });
CHOICES (waterings, { "sprinkler", N_ ("sprinkler") }, { "hose", N_ ("hose") },
         { "tank", N_ ("tank") }, { "cover", N_ ("covered") });
/* What earlier years gave is often not known by grade. */
CHOICES (grades, { "A", N_ ("A") }, { "B", N_ ("B") }, { "C", N_ ("C") },
         { "unknown", N_ ("unknown") });
CHOICES (buyer_kinds, { "market", N_ ("market") }, { "restaurant", N_ ("restaurant") },
         { "shop", N_ ("shop") }, { "subscription", N_ ("subscription") },
         { "wholesale", N_ ("wholesale") }, { "own use", N_ ("own use") });
CHOICES (sale_forms, { "fresh", N_ ("fresh") }, { "dried", N_ ("dried") });
CHOICES (line_uses, { "sold", N_ ("sold") }, { "culled", N_ ("culled") },
         { "spoiled", N_ ("spoiled") }, { "given away", N_ ("given away") });
CHOICES (spawn_losses, { "past use", N_ ("past its date") }, { "spoiled", N_ ("spoiled") },
         { "given away", N_ ("given away") }, { "other", N_ ("other") });
CHOICES (cost_categories, { "spawn", N_ ("spawn") }, { "wax", N_ ("wax") },
         { "tools", N_ ("bits and tools") }, { "logs", N_ ("bolts bought") },
         { "yard", N_ ("yard and shade") }, { "water", N_ ("water") },
         { "packaging", N_ ("packaging") }, { "certification", N_ ("certification") },
         { "transport", N_ ("transport") }, { "other", N_ ("other") });
/* What is bought for more than a season and lies in store. */
CHOICES (stock_categories, { "spawn", N_ ("spawn without a lot") }, { "wax", N_ ("wax") },
         { "packaging", N_ ("packaging") });
CHOICES (cost_scopes, { "batch", N_ ("one batch") }, { "season", N_ ("this season's batches") },
         { "yard", N_ ("the whole yard") }, { "overhead", N_ ("overhead") });
CHOICES (drill_tools, { "drill", N_ ("a drill") },
         { "grinder", N_ ("an angle grinder with a bit adapter") });
CHOICES (tasks, { "felling", N_ ("felling") }, { "hauling", N_ ("hauling") },
         { "drilling", N_ ("drilling") }, { "filling", N_ ("filling") },
         { "waxing", N_ ("waxing") }, { "stacking", N_ ("stacking") }, { "moving", N_ ("moving") },
         { "watering", N_ ("watering") }, { "soaking", N_ ("soaking") },
         { "picking", N_ ("picking") }, { "packing", N_ ("packing") },
         { "selling", N_ ("selling") }, { "other", N_ ("other") });

#undef CHOICES
