//! One line as our shaper and `hb-shape` shape it, made comparable: its glyphs from left to right.

#![allow(
    dead_code,
    reason = "each test file is a crate of its own and uses its own share of this"
)]

use std::collections::HashMap;
use std::str::FromStr;

use versefold::assets::Assets;
use versefold::names::{Direction, Feature, Length};
use versefold::setting::ShapedLine;
use versefold::typeface::{Emphasis, Face, FontLibrary, FontStyle, Letters, Shaper, Typeface};

/// A glyph of a line, in font units, clusters counted in bytes of the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shaped {
    pub id: u32,
    pub cluster: usize,
    pub advance: i32,
    pub dx: i32,
    pub dy: i32,
    pub space: bool,
}

/// A face with features, as a plan asks for it.
pub struct Faced {
    typeface: Typeface,
    voice: FontStyle,
}

impl Faced {
    pub fn new(family: &str, stress: Emphasis, features: &str) -> Faced {
        let main = FontLibrary::new(Assets::memory())
            .open_family(family)
            .unwrap();
        // What rustybuzz gives at this size is font units, so that nothing is rounded.
        let size = i64::from(main.face(stress).metrics().units_per_em);
        let small_caps = features == "smcp";
        let plain = (!features.is_empty() && !small_caps).then(|| Feature {
            tag: features.as_bytes().try_into().unwrap(),
            value: 1,
        });
        Faced {
            typeface: Typeface {
                features: plain.into_iter().collect(),
                ..Typeface::new(main, Vec::new())
            },
            voice: FontStyle {
                stress,
                letters: match small_caps {
                    true => Letters::SmallCapitals,
                    false => Letters::AsWritten,
                },
                ..FontStyle::plain(Length::from_units(size))
            },
        }
    }

    pub fn line(&self, language: &str, text: &str) -> Vec<Shaped> {
        self.languages().line(language, text)
    }

    /// Shapers that remember words from line to line, one for each language.
    pub fn languages(&self) -> Languages<'_> {
        Languages {
            faced: self,
            shapers: HashMap::new(),
        }
    }

    /// Whether the face has every character of a text.
    pub fn has_all(&self, text: &str) -> bool {
        let face = self.face();
        text.chars()
            .all(|c| face.covers(c.encode_utf8(&mut [0; 4])))
    }

    pub fn typeface(&self) -> &Typeface {
        &self.typeface
    }

    pub fn voice(&self) -> FontStyle {
        self.voice
    }

    pub fn face(&self) -> &Face {
        self.typeface.main.face(self.voice.stress)
    }

    /// The features that the face is asked for, small capitals among them.
    pub fn features(&self) -> Vec<Feature> {
        let mut features = self.typeface.features.clone();
        if self.voice.letters.are_small_capitals() {
            features.push(Feature {
                tag: *b"smcp",
                value: 1,
            });
        }
        features
    }
}

pub struct Languages<'a> {
    faced: &'a Faced,
    shapers: HashMap<String, Shaper<'a>>,
}

impl Languages<'_> {
    /// A line put together again from its words and the spaces before them; all of it runs one way.
    pub fn line(&mut self, language: &str, text: &str) -> Vec<Shaped> {
        let (typeface, voice) = (&self.faced.typeface, self.faced.voice);
        let shaper = self
            .shapers
            .entry(language.to_string())
            // The language of a shaper lives as long as the part it is for; here as long as the tests.
            .or_insert_with(|| Shaper::new(typeface, String::from(language).leak()));
        let line = ShapedLine::added(text, voice);
        // Every space, and every segment of a word, each with its glyphs from left to right.
        let mut pieces: Vec<Vec<Shaped>> = Vec::new();
        for word in line.set(shaper, 0..text.len()).iter() {
            let (start, shaped) = (word.text.start, &word.shaped);
            assert_eq!(shaped.missing, [], "{text}");
            if let Some((_, space)) = &shaped.space {
                let before = text[..start].trim_end_matches(' ').len();
                let more = line.extra_space(shaper, start, voice).units() as i32;
                pieces.push(vec![Shaped {
                    id: u32::from(space.id),
                    cluster: before,
                    advance: space.advance + more,
                    dx: space.dx,
                    dy: space.dy,
                    space: true,
                }]);
            }
            for segment in &shaped.segments {
                let glyphs = segment.glyphs.iter().map(|glyph| Shaped {
                    id: u32::from(glyph.id),
                    cluster: start + glyph.cluster as usize,
                    advance: glyph.advance,
                    dx: glyph.dx,
                    dy: glyph.dy,
                    space: false,
                });
                pieces.push(glyphs.collect());
            }
        }
        if line.reads() == Direction::RightToLeft {
            pieces.reverse();
        }
        let glyphs: Vec<Shaped> = pieces.into_iter().flatten().collect();
        let width = line.width(shaper, 0..text.len());
        let sum: i64 = glyphs.iter().map(|glyph| i64::from(glyph.advance)).sum();
        assert_eq!(width.units(), sum, "the width of {text}");
        glyphs
    }
}

/// Marks the spaces of a line. A run of several is one, for our lines have one glyph for it; what a shaper
/// leaves in the place of a joiner or a non-joiner is nothing.
pub fn spaced(text: &str, glyphs: impl Iterator<Item = Shaped>) -> Vec<Shaped> {
    let mut line: Vec<Shaped> = Vec::new();
    for glyph in glyphs {
        if glyph.advance == 0 && text[glyph.cluster..].starts_with(['\u{200C}', '\u{200D}']) {
            continue;
        }
        let space = text.as_bytes()[glyph.cluster] == b' ';
        let glyph = Shaped { space, ..glyph };
        match line.last_mut() {
            Some(last) if last.space && space => {
                last.id = glyph.id;
                last.cluster = last.cluster.min(glyph.cluster);
                last.advance += glyph.advance;
            }
            _ => line.push(glyph),
        }
    }
    line
}

/// The glyphs of a line as `hb-shape` tells them: `[glyph=cluster@dx,dy+advance|...]`.
pub fn told(text: &str, glyphs: &str) -> Vec<Shaped> {
    let bare = glyphs.trim_matches(['[', ']']);
    let turned = |glyph: &str| match glyph.split_once('@') {
        Some((head, rest)) => {
            let (offset, advance) = rest.split_once('+').unwrap();
            format!("{head}+{advance}@{offset}")
        }
        None => glyph.to_string(),
    };
    let glyphs: Vec<String> = bare.split('|').map(turned).collect();
    expected(text, &glyphs.join(" "))
}

/// The glyphs of a line of a fixture: `glyph=cluster+advance@dx,dy`.
pub fn expected(text: &str, glyphs: &str) -> Vec<Shaped> {
    let number = |digits: &str| i32::from_str(digits).unwrap();
    let one = |glyph: &str| {
        let (id, rest) = glyph.split_once('=').unwrap();
        let (rest, offset) = rest.split_once('@').unwrap_or((rest, "0,0"));
        let (cluster, advance) = rest.split_once('+').unwrap();
        let (dx, dy) = offset.split_once(',').unwrap();
        Shaped {
            id: id.parse().unwrap(),
            cluster: cluster.parse().unwrap(),
            advance: number(advance),
            dx: number(dx),
            dy: number(dy),
            space: false,
        }
    };
    spaced(text, glyphs.split(' ').map(one))
}

/// Asserts that nothing differs, and shows the first few that do.
pub fn nothing(different: &[String], compared: usize) {
    assert!(
        different.is_empty(),
        "{} of {compared} lines differ:\n{}",
        different.len(),
        different[..different.len().min(12)].join("\n")
    );
}

/// What differs first, if anything.
pub fn difference(name: &str, text: &str, ours: &[Shaped], theirs: &[Shaped]) -> Option<String> {
    let at = (0..ours.len().max(theirs.len())).find(|&at| ours.get(at) != theirs.get(at))?;
    let (mine, other) = (ours.get(at), theirs.get(at));
    Some(format!(
        "{name}: {text}\n    glyph {at}: {mine:?} is not {other:?}"
    ))
}
