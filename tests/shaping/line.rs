//! One line as our shaper, `hb-shape` and harfrust shape it, made comparable.

use std::collections::HashMap;
use std::str::FromStr;

use harfrust::{Buffer, Direction, Font, Language, ShapeOptions, ShaperFont, Tag};
use versefold::lines::ShapedLine;
use versefold::plan::Feature;
use versefold::typeface::{Script, Shaper, Shelf, Stress, Typeface, Voice};
use versefold::units::Length;

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
    voice: Voice,
}

impl Faced {
    pub fn new(family: &str, stress: Stress, features: &str) -> Faced {
        let main = Shelf::new(".").open_family(family).unwrap();
        // What rustybuzz gives at this size is font units, so that nothing is rounded.
        let size = i64::from(main.face(stress).metrics().units_per_em);
        let small_caps = features == "smcp";
        let plain = (!features.is_empty() && !small_caps).then(|| Feature {
            tag: features.as_bytes().try_into().unwrap(),
            value: 1,
        });
        Faced {
            typeface: Typeface {
                main,
                fallback: Vec::new(),
                features: plain.into_iter().collect(),
            },
            voice: Voice {
                stress,
                small_caps,
                size: Length::from_units(size),
                tracking: Length::ZERO,
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
        let face = self.typeface.main.face(self.voice.stress);
        text.chars()
            .all(|c| face.covers(c.encode_utf8(&mut [0; 4])))
    }
}

pub struct Languages<'a> {
    faced: &'a Faced,
    shapers: HashMap<String, Shaper<'a>>,
}

impl Languages<'_> {
    /// A line put together again from its words and the spaces before them.
    pub fn line(&mut self, language: &str, text: &str) -> Vec<Shaped> {
        let (typeface, voice) = (&self.faced.typeface, self.faced.voice);
        let shaper = self
            .shapers
            .entry(language.to_string())
            // The language of a shaper lives as long as the part it is for; here as long as the tests.
            .or_insert_with(|| Shaper::new(typeface, String::from(language).leak()));
        let line = ShapedLine::added(text, voice);
        let mut glyphs = Vec::new();
        for word in line.set(shaper, 0..text.len()).iter() {
            let (start, shaped) = (word.text.start, &word.shaped);
            assert_eq!(shaped.missing, [], "{text}");
            if let Some((_, space)) = &shaped.space {
                let before = text[..start].trim_end_matches(' ').len();
                let more = line.extra_space(shaper, start, voice).units() as i32;
                glyphs.push(Shaped {
                    id: u32::from(space.id),
                    cluster: before,
                    advance: space.advance + more,
                    dx: space.dx,
                    dy: space.dy,
                    space: true,
                });
            }
            for segment in &shaped.segments {
                glyphs.extend(segment.glyphs.iter().map(|glyph| Shaped {
                    id: u32::from(glyph.id),
                    cluster: start + glyph.cluster as usize,
                    advance: glyph.advance,
                    dx: glyph.dx,
                    dy: glyph.dy,
                    space: false,
                }));
            }
        }
        let width = line.width(shaper, 0..text.len());
        let sum: i64 = glyphs.iter().map(|glyph| i64::from(glyph.advance)).sum();
        assert_eq!(width.units(), sum, "the width of {text}");
        glyphs
    }
}

/// Marks the spaces of a line. A run of several is one, for our lines have one glyph for it.
fn spaced(text: &str, glyphs: impl Iterator<Item = Shaped>) -> Vec<Shaped> {
    let mut line: Vec<Shaped> = Vec::new();
    for glyph in glyphs {
        let space = text.as_bytes()[glyph.cluster] == b' ';
        let glyph = Shaped { space, ..glyph };
        match line.last_mut() {
            Some(last) if last.space && space => {
                last.id = glyph.id;
                last.advance += glyph.advance;
            }
            _ => line.push(glyph),
        }
    }
    line
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

/// The same face for harfrust.
pub struct Reference {
    font: Font,
    features: Vec<harfrust::Feature>,
}

impl Reference {
    pub fn new(faced: &Faced) -> Reference {
        let face = faced.typeface.main.face(faced.voice.stress);
        let mut features = faced.typeface.features.clone();
        if faced.voice.small_caps {
            features.push(Feature {
                tag: *b"smcp",
                value: 1,
            });
        }
        let features = features.iter();
        Reference {
            font: Font::new(face.data().to_vec(), 0).unwrap(),
            features: features
                .map(|f| harfrust::Feature::new(Tag::new(&f.tag), f.value, ..))
                .collect(),
        }
    }

    /// A whole line at once, or each stretch of it that is of one script at once. The spaces between two
    /// stretches are shaped with both and taken from the later one.
    pub fn line(&self, language: &str, text: &str) -> Vec<Shaped> {
        let mut glyphs = Vec::new();
        for (start, end, script) in stretches(text) {
            let from = text[..start].trim_end_matches(' ').len();
            let to = end + usize::from(end < text.len());
            let shaped = self.shaped(language, &text[from..to], script).into_iter();
            let moved = shaped.map(|glyph| Shaped {
                cluster: glyph.cluster + from,
                ..glyph
            });
            glyphs.extend(moved.filter(|glyph| glyph.cluster < end));
        }
        spaced(text, glyphs.into_iter())
    }

    fn shaped(&self, language: &str, text: &str, script: Script) -> Vec<Shaped> {
        let mut buffer = Buffer::new();
        buffer.push_str(text);
        buffer.set_direction(Direction::LeftToRight);
        let codes = [('a', "Latn"), ('я', "Cyrl"), ('α', "Grek")];
        let code = codes.iter().find(|(c, _)| Script::of(*c) == Some(script));
        buffer.set_script(harfrust::Script::from_str(code.unwrap().1).ok());
        buffer.set_language(Language::new(language));
        let options = ShapeOptions::new().features(&self.features);
        harfrust::shape(&ShaperFont::new(&self.font), &mut buffer, options).unwrap();
        let glyphs = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
        let glyphs = glyphs.map(|(info, position)| Shaped {
            id: info.glyph_id,
            cluster: info.cluster as usize,
            advance: position.x_advance,
            dx: position.x_offset,
            dy: position.y_offset,
            space: false,
        });
        glyphs.collect()
    }
}

/// The stretches of words that are of one script, without the spaces around them: (from, to, script).
/// A word without letters is of the script that the line begins in.
fn stretches(text: &str) -> Vec<(usize, usize, Script)> {
    let first = text.chars().find_map(Script::of).unwrap_or(Script::LATIN);
    let mut found: Vec<(usize, usize, Script)> = Vec::new();
    let mut at = 0;
    for word in text.split(' ') {
        let (from, to) = (at, at + word.len());
        at = to + 1;
        if word.is_empty() {
            continue;
        }
        let script = word.chars().find_map(Script::of).unwrap_or(first);
        match found.last_mut() {
            Some(last) if last.2 == script => last.1 = to,
            _ => found.push((from, to, script)),
        }
    }
    found
}
