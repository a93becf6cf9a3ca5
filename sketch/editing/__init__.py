"""Pure edits of a layout: figures and places, walls and straights, parts added, renamed, deleted. No Qt."""
