#pragma once

#include "model/farm/kinds.h"
#include "science/language.h"
#include <glib/gi18n-lib.h>

/* What a field of choices can be, for the table of fields alone: the key that is stored, and the
 * word for it with what it is said of. */

#define CHOICES(name, ...) static const BedChoice name[] = { __VA_ARGS__, { NULL, NULL, NULL } }

CHOICES (unit_systems, { "metric", OF_ ("units", "metric") }, { "US", OF_ ("units", "US") });
CHOICES (hemispheres, { "north", OF_ ("hemisphere", "north") },
         { "south", OF_ ("hemisphere", "south") });
CHOICES (bases, { "wet", OF_ ("moisture", "wet basis") }, { "dry", OF_ ("moisture", "dry basis") });
CHOICES (suits, { "good", OF_ ("suits", "good") }, { "fair", OF_ ("suits", "fair") },
         { "poor", OF_ ("suits", "poor") });
CHOICES (tree_conditions, { "healthy", OF_ ("trees", "healthy") },
         { "storm-thrown", OF_ ("trees", "storm-thrown") }, { "dead", OF_ ("trees", "dead") });
CHOICES (leaf_states, { "dormant", OF_ ("leaves", "dormant") },
         { "bud swell", OF_ ("leaves", "bud swell") }, { "in leaf", OF_ ("leaves", "in leaf") },
         { "leaf fall", OF_ ("leaves", "leaf fall") });
CHOICES (methods, { "drilled", OF_ ("method", "drilled") }, { "totem", OF_ ("method", "totem") },
         { "wedge", OF_ ("method", "wedge") });
CHOICES (strain_types, { "cold-weather", OF_ ("strain", "cold-weather") },
         { "wide-range", OF_ ("strain", "wide-range") },
         { "warm-weather", OF_ ("strain", "warm-weather") });
CHOICES (spawn_forms, { "sawdust", OF_ ("spawn", "sawdust") }, { "dowel", OF_ ("spawn", "dowel") },
         { "thimble", OF_ ("spawn", "thimble") }, { "grain", OF_ ("spawn", "grain") });
CHOICES (yes_no, { "yes", OF_ ("answer", "yes") }, { "no", OF_ ("answer", "no") });
CHOICES (write_offs, { "straight line", OF_ ("write-off", "straight line") },
         { "declining 150", OF_ ("write-off", "declining balance, 150 %") },
         { "declining 200", OF_ ("write-off", "declining balance, 200 %") },
         { "years' digits", OF_ ("write-off", "sum of the years' digits") });
CHOICES (closings, { "nearest", OF_ ("rows", "any number") },
         { "even", OF_ ("rows", "even number") }, { "helical", OF_ ("rows", "spiral") });
CHOICES (waxes, { "paraffin", OF_ ("wax", "paraffin") }, { "beeswax", OF_ ("wax", "beeswax") },
         { "soy wax", OF_ ("wax", "soy wax") }, { "cheese wax", OF_ ("wax", "cheese wax") },
         { "other", OF_ ("wax", "other") });
CHOICES (barks, { "sound", OF_ ("bark", "sound") }, { "damaged", OF_ ("bark", "damaged") });
CHOICES (bark_checks, { "sound", OF_ ("bark", "sound") }, { "loose", OF_ ("bark", "loose") },
         { "cracked", OF_ ("bark", "cracked") }, { "lost", OF_ ("bark", "lost") });
CHOICES (retirements, { "spent", OF_ ("log", "spent") }, { "rotted", OF_ ("log", "rotted") },
         { "weed fungus", OF_ ("log", "overrun by a weed fungus") },
         { "bark lost", OF_ ("log", "bark lost") }, { "sold", OF_ ("log", "sold") },
         { "lost", OF_ ("log", "lost") });
CHOICES (shades, { "trees", OF_ ("shade", "trees") }, { "conifers", OF_ ("shade", "conifers") },
         { "shade cloth", OF_ ("shade", "shade cloth") }, { "building", OF_ ("shade", "building") },
         { "none", OF_ ("shade", "none") });
CHOICES (waters, { "pond", OF_ ("water", "pond") }, { "stream", OF_ ("water", "stream") },
         { "tap", OF_ ("water", "tap") }, { "well", OF_ ("water", "well") },
         { "rain", OF_ ("water", "rain water") }, { "tank", OF_ ("water", "tank") });
CHOICES (feature_kinds, { "tree", OF_ ("feature", "tree") }, { "path", OF_ ("feature", "path") },
         { "pond", OF_ ("feature", "pond") }, { "tank", OF_ ("feature", "tank") },
         { "tap", OF_ ("feature", "tap") }, { "fence", OF_ ("feature", "fence") },
         { "building", OF_ ("feature", "building") },
         { "shade cloth", OF_ ("feature", "shade cloth") });
CHOICES (stack_kinds, { "dead", OF_ ("stack", "dead stack") }, { "crib", OF_ ("stack", "crib") },
         { "lean-to", OF_ ("stack", "lean-to") }, { "A-frame", OF_ ("stack", "A-frame") },
         { "upright row", OF_ ("stack", "upright row") },
         { "ground row", OF_ ("stack", "ground row") }, { "totem", OF_ ("stack", "totem") });
CHOICES (forms, { "point", OF_ ("shape", "a point") }, { "disc", OF_ ("shape", "a circle") },
         { "box", OF_ ("shape", "a rectangle") }, { "band", OF_ ("shape", "a strip along points") },
         { "polygon", OF_ ("shape", "corners") });
/* W.-C. Bak, H. Kwon, Mushroom Growers' Handbook 2: Shiitake Cultivation, MushWorld, 2005,
 * p. 152. */
CHOICES (weeds,
         { "Trichoderma", OF_ ("weed fungus", "green mould (Trichoderma): damp, little air") },
         { "Trametes", OF_ ("weed fungus", "turkey tail (Trametes): damp") },
         { "Schizophyllum", OF_ ("weed fungus", "split gill (Schizophyllum): sun, dry") },
         { "Stereum", OF_ ("weed fungus", "Stereum: dry, old wood") },
         { "Hypoxylon", OF_ ("weed fungus", "Hypoxylon: dry, heat, stressed trees") },
         { "Hypocrea", OF_ ("weed fungus", "Hypocrea: dry") },
         { "Diatrype", OF_ ("weed fungus", "Diatrype: dry") },
         { "Bulgaria", OF_ ("weed fungus", "Bulgaria: hot and damp") },
         { "Inonotus", OF_ ("weed fungus", "Inonotus: hot and damp") },
         { "other", OF_ ("weed fungus", "other") });
CHOICES (severities, { "trace", OF_ ("severity", "trace") }, { "some", OF_ ("severity", "some") },
         { "heavy", OF_ ("severity", "heavy") });
CHOICES (waterings, { "sprinkler", OF_ ("watering", "sprinkler") },
         { "hose", OF_ ("watering", "hose") }, { "tank", OF_ ("watering", "tank") },
         { "cover", OF_ ("watering", "covered") });
/* What earlier years gave is often not known by grade. */
CHOICES (grades, { "A", OF_ ("grade", "A") }, { "B", OF_ ("grade", "B") },
         { "C", OF_ ("grade", "C") }, { "unknown", OF_ ("grade", "unknown") });
CHOICES (buyer_kinds, { "market", OF_ ("buyer", "market") },
         { "restaurant", OF_ ("buyer", "restaurant") }, { "shop", OF_ ("buyer", "shop") },
         { "subscription", OF_ ("buyer", "subscription") },
         { "wholesale", OF_ ("buyer", "wholesale") }, { "own use", OF_ ("buyer", "own use") });
CHOICES (sale_forms, { "fresh", OF_ ("mushrooms", "fresh") },
         { "dried", OF_ ("mushrooms", "dried") });
CHOICES (line_uses, { "sold", OF_ ("mushrooms", "sold") },
         { "culled", OF_ ("mushrooms", "culled") }, { "spoiled", OF_ ("mushrooms", "spoiled") },
         { "given away", OF_ ("mushrooms", "given away") });
CHOICES (spawn_losses, { "past use", OF_ ("spawn", "past its date") },
         { "spoiled", OF_ ("spawn", "spoiled") }, { "given away", OF_ ("spawn", "given away") },
         { "other", OF_ ("spawn", "other") });
CHOICES (cost_categories, { "spawn", OF_ ("cost", "spawn") }, { "wax", OF_ ("cost", "wax") },
         { "tools", OF_ ("cost", "bits and tools") }, { "logs", OF_ ("cost", "bolts bought") },
         { "yard", OF_ ("cost", "yard and shade") }, { "water", OF_ ("cost", "water") },
         { "packaging", OF_ ("cost", "packaging") },
         { "certification", OF_ ("cost", "certification") },
         { "transport", OF_ ("cost", "transport") }, { "other", OF_ ("cost", "other") });
/* What is bought for more than a season and lies in store. */
CHOICES (stock_categories, { "spawn", OF_ ("stock", "spawn without a lot") },
         { "wax", OF_ ("stock", "wax") }, { "packaging", OF_ ("stock", "packaging") });
CHOICES (cost_scopes, { "batch", OF_ ("cost for", "one batch") },
         { "season", OF_ ("cost for", "this season's batches") },
         { "yard", OF_ ("cost for", "the whole yard") },
         { "overhead", OF_ ("cost for", "overhead") });
CHOICES (drill_tools, { "drill", OF_ ("tool", "a drill") },
         { "grinder", OF_ ("tool", "an angle grinder with a bit adapter") });
CHOICES (tasks, { "felling", OF_ ("task", "felling") }, { "hauling", OF_ ("task", "hauling") },
         { "drilling", OF_ ("task", "drilling") }, { "filling", OF_ ("task", "filling") },
         { "waxing", OF_ ("task", "waxing") }, { "stacking", OF_ ("task", "stacking") },
         { "moving", OF_ ("task", "moving") }, { "watering", OF_ ("task", "watering") },
         { "soaking", OF_ ("task", "soaking") }, { "picking", OF_ ("task", "picking") },
         { "packing", OF_ ("task", "packing") }, { "selling", OF_ ("task", "selling") },
         { "other", OF_ ("task", "other") });

#undef CHOICES
