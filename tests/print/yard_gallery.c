/* Draws the yard in every kind and palette into a folder, for the eye: yard-gallery FOLDER. */
#include "../yard/yard_sample.h"
#include "print/yard/yard_names.h"

static const char *palettes[] = { "light", "dark", "paper" };

typedef struct
{
  const char *folder;
  BedTypesetter *type;
} Gallery;

static void
save (cairo_t *cr, const Gallery *gallery, const char *name, const char *palette)
{
  g_autofree char *file = g_strdup_printf ("%s-%s.png", name, palette);
  g_autofree char *path = g_build_filename (gallery->folder, file, NULL);

  if (cairo_surface_write_to_png (cairo_get_target (cr), path) != CAIRO_STATUS_SUCCESS)
    g_printerr ("cannot write %s\n", path);
  cairo_destroy (cr);
}

static cairo_t *
make_picture (int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);

  cairo_surface_destroy (surface);
  return cr;
}

static void
draw_plan (const Gallery *gallery, const BedYard *yard, const char *name, int palette)
{
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedYardStyle style = { bed_palette_get (palette), gallery->type, BED_COLOUR_BY_BATCH, 11 };
  BedPlan plan = { scene, &style, { .width = 1100, .height = 760 } };
  g_autoptr (BedYardNames) names = bed_yard_names_new (scene, &style);
  BedExtent extent = bed_yard_bounds (scene);
  cairo_t *cr = make_picture (1100, 760);

  bed_viewport_fit (&plan.view, &extent, 24);
  bed_plan_draw (cr, &plan, names);
  bed_plan_draw_north (cr, &plan);
  bed_plan_draw_scale_bar (cr, &plan);
  save (cr, gallery, name, palettes[palette]);
}

static void
draw_elevation (const Gallery *gallery, BedYardStack *stack, int palette)
{
  BedFacesFlow flow = stack->kind == BED_STACK_CRIB ? BED_FACES_ACROSS : BED_FACES_DOWN;
  g_autoptr (BedElevation) elevation = bed_elevation_new (stack, flow);
  BedYardStyle style = { bed_palette_get (palette), gallery->type, BED_COLOUR_BY_BATCH, 11 };
  BedElevationDrawing drawing = { elevation, &style, { .width = 900, .height = 460 }, NULL };
  BedExtent extent = { 0, 0, elevation->width, elevation->height };
  cairo_t *cr = make_picture (900, 460);

  bed_colour_set (cr, &style.palette->ground, 1);
  cairo_paint (cr);
  bed_viewport_fit (&drawing.view, &extent, 12);
  bed_elevation_draw (cr, &drawing);
  save (cr, gallery, stack->name, palettes[palette]);
}

int
main (int argc, char *argv[])
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  Gallery gallery = { argc > 1 ? argv[1] : ".", type };
  g_autoptr (BedYard) yard = sample_yard_new (), large = sample_large_yard_new ();

  const SampleStack totem = { BED_STACK_TOTEM, 17.6, 6.4, 90, 9, 8, 10 };

  g_ptr_array_add (yard->stacks, sample_stack_new (&totem));
  for (int palette = 0; palette < 3; palette++)
    {
      draw_plan (&gallery, yard, "plan", palette);
      draw_plan (&gallery, large, "large", palette);
      for (guint i = 2; i < yard->stacks->len; i++)
        draw_elevation (&gallery, yard->stacks->pdata[i], palette);
    }
  return 0;
}
