//! What a panel carries.

/// What a panel carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    /// The headings that open its part, else the plan's title.
    Title,
    /// Words.
    Text,
    /// Words and a picture.
    Shared,
    /// A picture.
    Picture,
    /// It shows nothing, on purpose.
    Blank,
    /// It is glued to a board, and closed to words and pictures.
    PasteDown,
}

impl Role {
    /// The roles an author may pin.
    pub const PINNABLE: [Role; 5] = [
        Role::Title,
        Role::Text,
        Role::Shared,
        Role::Picture,
        Role::Blank,
    ];

    /// The word used in plans, messages and JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Role::Title => "title",
            Role::Text => "text",
            Role::Shared => "shared",
            Role::Picture => "picture",
            Role::Blank => "blank",
            Role::PasteDown => "paste-down",
        }
    }

    /// Whether words of the manuscript may stand here.
    pub const fn has_words(self) -> bool {
        matches!(self, Role::Title | Role::Text | Role::Shared)
    }

    /// Whether a picture stands here.
    pub const fn has_picture(self) -> bool {
        matches!(self, Role::Shared | Role::Picture)
    }
}
