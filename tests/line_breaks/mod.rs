//! How paragraphs fall into lines: the published example of the article that the pass is named after, brute force on
//! small random paragraphs from every place, and on every slot of a shaped area, a plain table on longer ones, first-fit on real words, and properties.

mod builder;
mod example;
mod large;
mod plain;
mod properties;
mod random;
mod slots;
mod table;
mod texts;
