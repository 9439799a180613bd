//! Characters that no face has.

use std::collections::{BTreeMap, HashMap};
use std::ops::Range;

use super::{Row, ShapedLine};
use crate::names::{Fault, Faults, Length, Location, and_list};
use crate::plan::{LabelAsked, TextStyle, TypefaceNamed};
use crate::text::{Manuscript, TextLine};
use crate::typeface::{FontLibrary, FontStyle, Script, Shaper, Typeface};

/// Characters of a script that are named one by one.
const NAMED: usize = 4;

/// Places of a sign that are shown one by one.
const SHOWN: usize = 40;

/// Who is asked for missing characters.
pub(super) struct Search<'a> {
    pub style: &'a TextStyle,
    pub typeface: &'a Typeface,
    pub fonts: &'a FontLibrary,
}

/// A cluster that no face has.
struct Missing {
    cluster: String,
    /// Where it stands, [`SHOWN`] places at most.
    places: Vec<Location>,
    times: usize,
}

/// A fault for every script of which these words of the plan have characters that no face of `typeface` has. The style
/// names the typefaces that the author can add to.
pub fn label_faults(
    label: &LabelAsked,
    style: &TextStyle,
    typeface: &Typeface,
    fonts: &FontLibrary,
) -> Faults {
    let voice = FontStyle::plain(Length::pt(10));
    let line = ShapedLine::added(&label.words, voice);
    let shaper = Shaper::new(typeface, "en");
    let mut missing = MissingClusters::default();
    for (cluster, _) in missing_in(&line, 0..line.text.len(), &shaper) {
        missing.add(&line.text[cluster], || label.place.clone());
    }
    let search = Search {
        style,
        typeface,
        fonts,
    };
    search.faults_of(missing.all)
}

/// The clusters of a stretch that no face has: bytes of the line's text, and of the source where it has one.
fn missing_in(
    line: &ShapedLine,
    stretch: Range<usize>,
    shaper: &Shaper<'_>,
) -> Vec<(Range<usize>, Option<Range<usize>>)> {
    let mut found = Vec::new();
    for word in line.set(shaper, stretch).iter() {
        for &(at, length) in &word.shaped.missing {
            let from = word.text.start + at;
            let sources = line.sources(from..from + length);
            let source = sources.first().map(|source| source.0..source.1);
            found.push((from..from + length, source));
        }
    }
    found
}

/// Clusters that no face has, in the order in which they first stand.
#[derive(Default)]
struct MissingClusters {
    all: Vec<Missing>,
    /// Where each stands among them.
    known: HashMap<String, usize>,
}

impl MissingClusters {
    fn add(&mut self, cluster: &str, place: impl Fn() -> Location) {
        if let Some(&at) = self.known.get(cluster) {
            let known = &mut self.all[at];
            known.times += 1;
            if known.places.len() < SHOWN {
                known.places.push(place());
            }
            return;
        }
        self.known.insert(cluster.to_string(), self.all.len());
        self.all.push(Missing {
            cluster: cluster.to_string(),
            places: vec![place()],
            times: 1,
        });
    }
}

/// What scripts are told together: most by themselves, those of Chinese and Japanese as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Group {
    /// What every script uses.
    Signs,
    /// Han, kana and bopomofo.
    Han,
    Of(Script),
}

impl Search<'_> {
    /// A fault for every script of which characters of these rows are missing, in the order in which they first stand.
    pub(super) fn faults(
        &self,
        rows: &[&Row],
        (manuscript, lines): (&Manuscript, &[TextLine]),
        shaper: &Shaper<'_>,
    ) -> Faults {
        let mut missing = MissingClusters::default();
        for row in rows {
            // A large initial is looked at by itself.
            let initial = row.shaped.drop.iter().map(|drop| drop.text.clone());
            let rest = row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len());
            for stretch in initial.chain([rest]) {
                for (cluster, source) in missing_in(&row.shaped, stretch, shaper) {
                    let line = || lines[row.line].bytes.clone();
                    let source = source.unwrap_or_else(line);
                    missing.add(&row.shaped.text[cluster], || {
                        manuscript.place(source.clone())
                    });
                }
            }
        }
        self.faults_of(missing.all)
    }

    /// What is missing, script by script.
    fn faults_of(&self, all: Vec<Missing>) -> Faults {
        let mut groups: Vec<(Group, Vec<Missing>)> = Vec::new();
        for missing in all {
            let group = group(&missing.cluster, groups.iter().map(|known| known.0));
            match groups.iter_mut().find(|known| known.0 == group) {
                Some(known) => known.1.push(missing),
                None => groups.push((group, vec![missing])),
            }
        }
        let faults = groups.iter();
        faults
            .map(|(group, missing)| self.no_face(*group, missing))
            .collect()
    }

    fn no_face(&self, group: Group, missing: &[Missing]) -> Fault {
        let mut characters: BTreeMap<Vec<char>, usize> = BTreeMap::new();
        let mut order: Vec<Vec<char>> = Vec::new();
        for one in missing {
            for lacking in self.lacking(&one.cluster) {
                if !characters.contains_key(&lacking) {
                    order.push(lacking.clone());
                }
                *characters.entry(lacking).or_default() += one.times;
            }
        }
        let shown = order.iter().take(NAMED);
        let mut shown: Vec<String> = shown.map(|c| named(c, characters[c])).collect();
        if order.len() > NAMED {
            shown.push(format!("{} more", order.len() - NAMED));
        }
        let what = match order.len() {
            1 => format!("no face has {}", shown[0]),
            n => format!(
                "no face has {n} {}: {}",
                group.name(missing),
                and_list(&shown)
            ),
        };
        let clusters: Vec<&str> = missing.iter().map(|one| one.cluster.as_str()).collect();
        let mut fault = Fault::new("no-face", what)
            .at(missing[0].places[0].clone())
            .read(clusters[..clusters.len().min(NAMED)].join(" "));
        // A stray sign is looked for one by one; words in a script that is missing are seen at once.
        let stray = missing.iter().filter(|_| group == Group::Signs);
        let stray = stray.flat_map(|one| &one.places);
        for place in stray.skip(1).take(SHOWN - 1) {
            fault = fault.also(place.clone(), "and here");
        }
        for choice in &self.style.fallback {
            if let Some(place) = &choice.place {
                fault = fault.also(place.clone(), "nor has this");
            }
        }
        fault.help(self.help(group, &clusters, order.len() == 1))
    }

    /// What of a cluster no face has: its characters, or all of it where each is somewhere, but never together.
    fn lacking(&self, cluster: &str) -> Vec<Vec<char>> {
        let lacks = |c: &char| !self.typeface.covers(c.encode_utf8(&mut [0; 4]));
        let found: Vec<Vec<char>> = cluster.chars().filter(lacks).map(|c| vec![c]).collect();
        match found.is_empty() {
            true => vec![cluster.chars().collect()],
            false => found,
        }
    }

    /// What to write in the plan.
    fn help(&self, group: Group, clusters: &[&str], one: bool) -> String {
        let (families, left) = self.fonts.families_with(clusters.iter().copied());
        let quoted: Vec<String> = families.iter().map(|name| format!("\"{name}\"")).collect();
        let file = "\"fonts/NAME.ttf\"".to_string();
        let them = if one { "it" } else { "them" };
        if left.is_empty() {
            let has = if families.len() == 1 { "has" } else { "have" };
            format!(
                "{} {has} {them}: write in the plan, under [text]: {}",
                and_list(&families),
                self.fallback(quoted)
            )
        } else if families.is_empty() {
            format!(
                "no typeface that comes with the program has {}: name a font file that has {them} by its \
                 path from the book's folder: {}",
                group.name_of_font(one),
                self.fallback(vec![file])
            )
        } else {
            let rest: Vec<String> = left.iter().take(NAMED).map(|one| code(one)).collect();
            let more = left.len().saturating_sub(NAMED);
            let more = (more > 0).then(|| format!("{more} more"));
            let rest: Vec<String> = rest.into_iter().chain(more).collect();
            format!(
                "{} has some of them; for {} name a font file by its path from the book's folder: {}",
                and_list(&families),
                and_list(&rest),
                self.fallback(quoted.into_iter().chain([file]).collect())
            )
        }
    }

    /// The line of the plan with the fallbacks that it has and more.
    fn fallback(&self, more: Vec<String>) -> String {
        let known = self.style.fallback.iter();
        let known = known.map(|choice| match &choice.named {
            TypefaceNamed::Family(name) => format!("\"{name}\""),
            TypefaceNamed::File(path) => format!("\"{path}\""),
            TypefaceNamed::Installed(name) => format!("{{ installed = \"{name}\" }}"),
            TypefaceNamed::Files { regular, .. } => {
                format!("{{ regular = \"{regular}\", … }}")
            }
        });
        let all: Vec<String> = known.chain(more).collect();
        format!("fallback = [{}]", all.join(", "))
    }
}

impl Group {
    fn holds(self, script: Script) -> bool {
        match self {
            Group::Signs => false,
            Group::Han => is_han(script),
            Group::Of(own) => own == script,
        }
    }

    /// `Hebrew characters`, or whatever they are.
    fn name(self, missing: &[Missing]) -> String {
        match self {
            Group::Signs => "signs".to_string(),
            Group::Of(script) => format!("{} characters", script.name()),
            Group::Han => {
                let kana = |c: char| Script::of(c).is_some_and(|own| own.code() != *b"Hani");
                let kana = missing.iter().any(|one| one.cluster.chars().any(kana));
                let name = if kana { "Japanese" } else { "Chinese" };
                format!("{name} characters")
            }
        }
    }

    /// What a font that is wanted must have.
    fn name_of_font(self, one: bool) -> &'static str {
        match self {
            Group::Han => "Chinese or Japanese characters",
            Group::Of(script) if script.code() == *b"Hang" => "Korean characters",
            Group::Of(_) | Group::Signs if one => "it",
            Group::Of(_) | Group::Signs => "them",
        }
    }
}

fn is_han(script: Script) -> bool {
    matches!(&script.code(), b"Hani" | b"Hira" | b"Kana" | b"Bopo")
}

/// The group of a cluster: its script's; of one that several scripts share, a group that there is already.
fn group(cluster: &str, known: impl Iterator<Item = Group>) -> Group {
    let of = |script: Script| match is_han(script) {
        true => Group::Han,
        false => Group::Of(script),
    };
    if let Some(own) = cluster.chars().find_map(Script::of) {
        return of(own);
    }
    let shared: Vec<Script> = cluster.chars().flat_map(Script::all_of).collect();
    let holds = |group: &Group| shared.iter().any(|script| group.holds(*script));
    let found = { known }.find(holds);
    let first = || shared.first().map_or(Group::Signs, |first| of(*first));
    let han = shared.iter().any(|script| is_han(*script));
    found.unwrap_or_else(|| if han { Group::Han } else { first() })
}

/// `U+2603 SNOWMAN, twice`
fn named(characters: &[char], times: usize) -> String {
    let name = |c: &char| {
        let name = unicode_names2::name(*c).map(|name| name.to_string());
        let name = name.unwrap_or_else(|| "without a name".to_string());
        format!("U+{:04X} {name}", u32::from(*c))
    };
    let names: Vec<String> = characters.iter().map(name).collect();
    let times = match times {
        1 => String::new(),
        2 => " (twice)".to_string(),
        n => format!(" ({n} times)"),
    };
    names.join(" with ") + &times
}

/// `U+05E9 with U+05C1`
fn code(cluster: &str) -> String {
    let codes = cluster.chars().map(|c| format!("U+{:04X}", u32::from(c)));
    codes.collect::<Vec<_>>().join(" with ")
}
