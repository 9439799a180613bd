//! What lies on the paper, as poppler's tools draw and read it: our own program makes the files, and does nothing else here.

mod grey;
mod register;
mod said;
