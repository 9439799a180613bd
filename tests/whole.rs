//! Whole books, as an author meets them: commands, the files they write, and what is said when something is wrong.

mod again;
mod art;
mod bad_input;
mod books;
mod caesura;
mod cast_off;
mod changed;
mod corrections;
mod installed;
mod layers;
mod margins;
mod older;
mod out_of_date;
mod parts;
mod rule_costs;
mod rules;
mod schema;
mod support;
mod title_passed;
mod x4;
