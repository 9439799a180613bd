//! The cast-off agrees with the real division: cell by cell with the book whose plan is written so, its two largest
//! sizes with trying every size, its fewest panels with what fits. How many characters a line holds is held against
//! published figures in `letters`, and what it says to people and refuses in `calls`.

mod calls;
mod cells;
mod fewest;
mod largest;
mod letters;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::{Length, Source};

/// A book as its files have it.
struct Book {
    folder: PathBuf,
    plan: String,
    manuscript: Arc<Source>,
}

impl Book {
    fn read(folder: &Path) -> Option<Book> {
        let plan = fs::read_to_string(folder.join("concertina.toml")).ok()?;
        let name = crate::support::manuscript_of(folder);
        let text = versefold::cli::files::read_text(&folder.join(&name), &name).ok()?;
        Some(Book {
            folder: folder.to_path_buf(),
            plan,
            manuscript: Source::new(name, text),
        })
    }

    /// A book of `tests/books`.
    fn small(name: &str) -> Book {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
        Book::read(&folder.join(name)).expect("a book")
    }

    fn source(&self) -> Arc<Source> {
        Source::new("concertina.toml", self.plan.as_str())
    }

    /// The plan written with another size and leading, and another number of panels.
    fn written(&self, type_size: Option<(Length, Length)>, panels: Option<u16>) -> Arc<Source> {
        let mut plan: toml::Table = toml::from_str(&self.plan).expect("TOML");
        if let Some((size, leading)) = type_size {
            let text = plan
                .entry("text")
                .or_insert_with(|| toml::Table::new().into());
            let text = text.as_table_mut().expect("a table");
            let points = |length: Length| toml::Value::from(format!("{} pt", length.as_pt()));
            text.insert("size".to_string(), points(size));
            text.insert("leading".to_string(), points(leading));
        }
        if let Some(panels) = panels {
            let paper = plan["paper"].as_table_mut().expect("a table");
            paper.insert("panels-per-side".to_string(), i64::from(panels).into());
        }
        Source::new("concertina.toml", toml::to_string(&plan).expect("TOML"))
    }

    /// Whether nothing is asked of the book but its words: no pictures, and no panels by name.
    fn is_words_alone(&self) -> bool {
        let asks = [
            "[[part]]",
            "[[panel]]",
            "[[picture]]",
            "pictures =",
            "cover",
        ];
        !asks.iter().any(|asked| self.plan.contains(asked))
            && !self.manuscript.text.contains("[picture:")
            && !self.manuscript.text.contains("[part:")
    }

    /// Whether so many panels can be kept for pictures.
    fn carries(&self, type_size: (Length, Length), panels: u16, pictures: usize) -> bool {
        let written = self.written(Some(type_size), Some(panels));
        let mut plan: toml::Table = toml::from_str(&written.text).expect("TOML");
        let rules = plan
            .entry("rules")
            .or_insert_with(|| toml::Table::new().into());
        let rules = rules.as_table_mut().expect("a table");
        rules.insert("pictures".to_string(), toml::Value::from(pictures as i64));
        let written = Source::new("concertina.toml", plan.to_string());
        Workbench::new(Assets::folder(&self.folder))
            .divide_texts(&written, &self.manuscript)
            .is_ok()
    }

    /// Whether the plan names panels, so that another number of them changes more than the number.
    fn names_panels(&self) -> bool {
        self.plan.contains("[[part]]") || self.plan.contains("[[panel]]")
    }
}

fn tenths(tenths: i64) -> Length {
    Length::pt(1) / 10 * tenths
}

/// Numbers that are the same on every run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, below: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }
}
