//! What a rule declares of itself beside its cost: its name, its words for people, and what may be asked of it.
//!
//! All of it is plain data. Whoever reads a plan, describes its keys, writes a new plan or tells what was given up does
//! so by these declarations, and knows no rule by itself.

/// A share in whole hundredths, 0 to 100.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Percent(pub u8);

/// What is said of every rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// The name an author writes: in `must`, `may-give` and `importance`, and as the key of what she asks.
    pub name: &'static str,
    /// Which rules it stands with.
    pub group: Group,
    /// Whether no division may break it unless the author says otherwise.
    pub hard: bool,
    /// What it looks at.
    pub judges: Judges,
    /// What it is for, in one sentence.
    pub words: &'static str,
}

/// The groups in which rules are told: first how much panels carry, then what bounds them, then what follows what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// What a panel should carry.
    Amount,
    /// What no panel may carry, and where none may end.
    Bounds,
    /// How words, pictures and blank panels follow each other.
    Order,
}

/// What a rule looks at. Cast-off goes by it: it counts panels for words alone, and asks of lines that it has not set
/// how short they could be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judges {
    /// A panel of words by itself: whether these words may stand on it and end there. To say so it remembers nothing, and
    /// words that take less room never break it.
    Words,
    /// How the panels of a part go together (their pictures, their roles, what was chosen for them), whatever room
    /// words take.
    Division,
    /// How much a panel carries: words that take less room, or more, may break it.
    Room,
}

/// Every rule declares this.
pub trait Declared {
    /// What is said of it.
    const ABOUT: About;
}

/// A rule that has a key in the plan declares this too.
pub trait Asks: Declared {
    /// What an author may ask.
    type Asked: Clone + PartialEq + 'static;

    /// What is asked where the plan does not say.
    const UNLESS_SAID: Self::Asked;

    /// How it is written.
    const FORM: Form<Self::Asked>;

    /// What a new plan shows of the key.
    const SHOWN: Shown<Self::Asked>;

    /// What of it contradicts itself, in words.
    fn contradiction(_asked: &Self::Asked) -> Option<String> {
        None
    }
}

/// What a new plan shows of a key.
#[derive(Clone, Copy, Debug)]
pub enum Shown<T> {
    /// What holds unless said, with a note: mostly what else may be written.
    Usual(&'static str),
    /// Something that may be asked, with a note, where nothing is asked unless said.
    Example(T, &'static str),
}

/// How what is asked stands in the plan. Each form gets its piece of what is asked, and sets it.
#[derive(Clone, Copy)]
pub enum Form<T: 'static> {
    /// A share, such as `"60 %"`.
    Share(Piece<T, Percent>),
    /// A whole number from one bound to another.
    Whole(i64, i64, Piece<T, i64>),
    /// `true` or `false`.
    Switch(Piece<T, bool>),
    /// One word out of a few.
    Words(&'static [Word<T>]),
    /// One word out of a few, or so many of something, such as `"4 lines"`, from 1 to 99.
    WordsOrCounts(&'static [Word<T>], &'static [Counted<T>]),
    /// Names of pictures. The plan keeps them, each with its place.
    Pictures,
    /// A table in curly brackets: what is asked where it is empty, and its keys.
    Table(fn() -> T, &'static [Entry<T>]),
    /// One word out of a few, or such a table.
    WordsOrTable(&'static [Word<T>], fn() -> T, &'static [Entry<T>]),
}

/// A piece of what is asked: how it is got, and how it is set.
#[derive(Clone, Copy)]
pub struct Piece<T, P> {
    /// Gets it.
    pub get: fn(&T) -> P,
    /// Sets it.
    pub set: fn(&mut T, P),
}

/// Something of which so many may be asked.
#[derive(Clone, Copy)]
pub struct Counted<T: 'static> {
    /// The word for one.
    pub one: &'static str,
    /// The word for several.
    pub many: &'static str,
    /// How many; nothing where they are not asked for.
    pub piece: Piece<T, Option<u32>>,
}

/// A word, and what it makes of what is asked.
pub type Word<T> = (&'static str, fn(&mut T));

/// A key of a table.
#[derive(Clone, Copy)]
pub struct Entry<T: 'static> {
    /// As an author writes it.
    pub key: &'static str,
    /// What it is for, in one sentence.
    pub words: &'static str,
    /// Its values; no table.
    pub form: Form<T>,
}

impl Form<Percent> {
    /// A share that is all there is.
    pub const SHARE: Form<Percent> = Form::Share(Piece {
        get: |asked| *asked,
        set: |asked, share| *asked = share,
    });
}

impl Form<bool> {
    /// A switch that is all there is.
    pub const SWITCH: Form<bool> = Form::Switch(Piece {
        get: |asked| *asked,
        set: |asked, on| *asked = on,
    });
}

impl Form<u32> {
    /// A whole number that is all there is; the bounds are those of the type or narrower.
    pub const fn whole(least: i64, most: i64) -> Form<u32> {
        Form::Whole(
            least,
            most,
            Piece {
                get: |asked| *asked as i64,
                set: |asked, number| *asked = number as u32,
            },
        )
    }
}

impl<T: Clone + PartialEq> Form<T> {
    /// What is asked as an author writes it; nothing where nothing is asked.
    pub fn written(&self, asked: &T) -> Option<String> {
        match self {
            Form::Share(piece) => Some(format!("\"{} %\"", (piece.get)(asked).0)),
            Form::Whole(_, _, piece) => Some((piece.get)(asked).to_string()),
            Form::Switch(piece) => Some((piece.get)(asked).to_string()),
            Form::Words(words) => word(words, asked),
            Form::WordsOrCounts(words, counted) => {
                let count = |counted: &Counted<T>| {
                    let count = (counted.piece.get)(asked)?;
                    let of = if count == 1 {
                        counted.one
                    } else {
                        counted.many
                    };
                    Some(format!("\"{count} {of}\""))
                };
                word(words, asked).or_else(|| counted.iter().find_map(count))
            }
            Form::Pictures => Some("[]".to_string()),
            Form::Table(_, entries) => table(entries, asked),
            Form::WordsOrTable(words, _, entries) => {
                word(words, asked).or_else(|| table(entries, asked))
            }
        }
    }
}

/// What is asked as a table has it.
fn table<T: Clone + PartialEq>(entries: &[Entry<T>], asked: &T) -> Option<String> {
    let entry = |entry: &Entry<T>| {
        let value = entry.form.written(asked)?;
        Some(format!("{} = {value}", entry.key))
    };
    let entries: Option<Vec<String>> = entries.iter().map(entry).collect();
    entries.map(|entries| format!("{{ {} }}", entries.join(", ")))
}

/// The word for what is asked, in quotation marks: the one that would change nothing.
fn word<T: Clone + PartialEq>(words: &[Word<T>], asked: &T) -> Option<String> {
    let says = |(_, set): &&Word<T>| {
        let mut same = asked.clone();
        set(&mut same);
        same == *asked
    };
    let found = words.iter().find(says);
    found.map(|(word, _)| format!("\"{word}\""))
}
