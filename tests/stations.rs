//! The stations, each by itself: what it makes of small and of real inputs, beside plain definitions and references.

mod assets;
mod breaks;
mod capitals;
mod division;
mod down;
mod emphasis;
mod font_files;
mod fonts;
mod from_memory;
mod headings;
mod hyphenation;
mod line_breaks;
mod made_from;
mod manuscript;
mod no_way;
mod openings;
mod real_turnovers;
mod remembered;
mod revise;
mod rooms;
mod shaping;
mod slots;
mod solid;
mod strip;
mod support;
mod turnovers;
