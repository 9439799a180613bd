//! What a file below `out/` is, by its name.

use super::strip::X4;

/// What a file below `out/` is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// A text layer.
    Layer,
    /// The contact sheet.
    ContactSheet,
    /// `layout.json`.
    Record,
    /// The trials side by side.
    Trials,
    /// The dummy.
    Dummy,
    /// A print sheet with its art.
    Sheet {
        /// Whether it is PDF/X-4.
        x4: bool,
    },
    /// A print sheet of words and marks alone.
    WordsSheet {
        /// Whether it is PDF/X-4.
        x4: bool,
    },
    /// A plate.
    Plate,
    /// The folding guide.
    Guide,
}

impl Kind {
    /// What the file of that name, below the output folder, is; nothing for a name that no output has.
    pub fn of(name: &str) -> Option<Kind> {
        let x4 = name.ends_with(&format!("{X4}.pdf"));
        let begins = |begin: &str| name.starts_with(begin);
        Some(match name {
            "contact-sheet.pdf" => Kind::ContactSheet,
            "layout.json" => Kind::Record,
            "trials.pdf" => Kind::Trials,
            "dummy.pdf" => Kind::Dummy,
            "strip/folding-guide.pdf" => Kind::Guide,
            _ if begins("layers/") => Kind::Layer,
            _ if begins("strip/sheet-") => Kind::Sheet { x4 },
            _ if begins("strip/words-sheet-") => Kind::WordsSheet { x4 },
            _ if begins("strip/plate-") => Kind::Plate,
            _ => return None,
        })
    }

    /// Whether it is one of the files that the main job writes.
    pub fn is_of_layers(self) -> bool {
        matches!(self, Kind::Layer | Kind::ContactSheet | Kind::Record)
    }

    /// Whether it lies with the print sheets.
    pub fn is_of_strip(self) -> bool {
        match self {
            Kind::Sheet { .. } | Kind::WordsSheet { .. } | Kind::Plate | Kind::Guide => true,
            Kind::Layer | Kind::ContactSheet | Kind::Record | Kind::Trials | Kind::Dummy => false,
        }
    }

    /// Whether it shows the art.
    pub fn shows_art(self) -> bool {
        matches!(self, Kind::Dummy | Kind::Sheet { .. } | Kind::Guide)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_files_and_pdf_x4_never_have_one_name() {
        let kinds = [
            "sheet-1",
            "sheet-1-x4",
            "words-sheet-12",
            "words-sheet-12-x4",
        ];
        let kinds = kinds.map(|name| Kind::of(&format!("strip/{name}.pdf")));
        assert_eq!(
            kinds.map(|kind| kind.expect("a sheet")),
            [
                Kind::Sheet { x4: false },
                Kind::Sheet { x4: true },
                Kind::WordsSheet { x4: false },
                Kind::WordsSheet { x4: true },
            ]
        );
        assert_eq!(Kind::of("strip/plate-black-1-front.pdf"), Some(Kind::Plate));
        assert_eq!(Kind::of("strip/sheets.txt"), None);
    }
}
