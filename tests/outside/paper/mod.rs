//! What lies on the paper, as poppler's tools draw and read it: our own program makes the files, and does nothing else here.

mod alike;
mod behind;
mod book;
mod dummy;
mod duplex;
mod grey;
mod marks;
mod pieces;
mod register;
mod said;
mod strip;
mod words;
