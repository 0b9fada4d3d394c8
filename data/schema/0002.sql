-- A farm's own pace and needs when it drills, fills and waxes; NULL: common practice.
-- Paces are counts a minute, handle_pace an hour; masses mg.
ALTER TABLE farm ADD COLUMN drill_tool TEXT;
ALTER TABLE farm ADD COLUMN drill_pace INTEGER;
ALTER TABLE farm ADD COLUMN fill_pace INTEGER;
ALTER TABLE farm ADD COLUMN wax_pace INTEGER;
ALTER TABLE farm ADD COLUMN end_pace INTEGER;
ALTER TABLE farm ADD COLUMN handle_pace INTEGER;
ALTER TABLE farm ADD COLUMN wax_holes INTEGER;
ALTER TABLE farm ADD COLUMN wax_ends INTEGER;
ALTER TABLE farm ADD COLUMN spawn_litre INTEGER;
