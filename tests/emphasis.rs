//! Emphasis in scripts whose faces have no italic, and what is told where nothing can show it.

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{Dot, GlyphRun, LaidLine, Layout};
use versefold::names::{Length, Source};
use versefold::outputs::{WordsAs, layers};
use versefold::readback::proof::read_back;

const SIZE: Length = Length::pt(10);

fn laid(language: &str, text: &str, words: &str) -> Layout {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"{language}\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"150 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 4\nsides = \"front\"\n\
         [text]\nsize = \"10 pt\"\nleading = \"17 pt\"\n{text}\n"
    );
    let plan = Source::new("concertina.toml", plan.as_str());
    let words = Source::new("winter-bus.txt", words);
    let laid =
        Workbench::new(Assets::folder(env!("CARGO_MANIFEST_DIR"))).lay_out_texts(&plan, &words);
    laid.unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn line(layout: &Layout, number: usize) -> &LaidLine {
    &layout.panels[0].lines[number]
}

/// The names of the faces of a line's runs.
fn faces(line: &LaidLine) -> Vec<&str> {
    line.runs.iter().map(|run| run.face.name()).collect()
}

fn dots(line: &LaidLine) -> Vec<Dot> {
    line.runs.iter().flat_map(GlyphRun::dots).collect()
}

fn told(layout: &Layout) -> Vec<(usize, &str)> {
    let notes = layout
        .notes
        .iter()
        .filter(|note| note.word == "no-emphasis");
    let place = |note: &versefold::setting::Note| note.place.as_ref().expect("a place").line();
    notes
        .map(|note| (place(note), note.what.as_str()))
        .collect()
}

/// The default family has an italic and a bold for both.
#[test]
fn greek_and_cyrillic_have_italics() {
    let words = "Το λεωφορείο του *χειμώνα*\nανεβαίνει **αργά** στο βουνό\nЗимний *автобус* идёт\nчерез **перевал**\n";
    let layout = laid("el", "", words);
    for (number, expected) in ["Italic", "Bold", "Italic", "Bold"].iter().enumerate() {
        let named = format!("Alegreya-{expected}");
        assert!(
            faces(line(&layout, number)).contains(&named.as_str()),
            "{named}"
        );
    }
    assert_eq!(told(&layout), []);
}

/// Where the letters of a line begin, by the bytes that they are.
fn starts(line: &LaidLine) -> Vec<(usize, Length)> {
    let mut found = Vec::new();
    for run in &line.runs {
        let mut pen = 0;
        for glyph in &run.glyphs {
            let x = run.x + run.face.scale(pen + glyph.dx, run.size);
            found.push((glyph.text.start, x));
            pen += glyph.advance;
        }
    }
    found.sort();
    found
}

/// Where there is no bold, twelve hundredths of the size stand between the letters of a word, and nowhere else.
#[test]
fn emphasised_hebrew_stands_apart() {
    let text = "typeface = \"fonts-open/noto-serif-hebrew/NotoSerifHebrew-Regular.ttf\"";
    let words = "אוטובוס *החורף*, עולה";
    let plain = laid("he", text, &words.replace('*', ""));
    // Strong emphasis is set so too.
    for words in [words.to_string(), words.replace('*', "**")] {
        let apart = laid("he", text, &words);
        assert_eq!(told(&apart), []);
        let (plain, apart) = (line(&plain, 0), line(&apart, 0));
        assert_eq!(plain.text, apart.text);
        let more = (apart.width - plain.width).as_pt();
        assert!((more - 4.0 * 1.2).abs() < 0.02, "{more}");
        let word = plain.text.find("החורף").expect("the word");
        for (was, is) in starts(plain).into_iter().zip(starts(apart)) {
            let letters = (was.0.clamp(word, word + 8) - word) / 2;
            let moved = (was.1 - is.1).as_pt();
            let expected = letters as f64 * 1.2;
            assert!(
                (moved - expected).abs() < 0.02,
                "byte {}: {moved}, not {expected}",
                was.0
            );
        }
    }
}

const SIGNS: &str = "typeface = \"tests/fonts/NotoSerifCJKjp-for-tests.otf\"";

/// Sources: CSS Text Decoration Level 3 (W3C), `text-emphasis-position`: over the signs in Japanese, under them in Chinese;
/// `text-emphasis-style`: none at punctuation; marks are half the size of their signs.
#[test]
fn emphasised_signs_have_dots() {
    for (language, above) in [("ja", true), ("zh-Hant", false), ("zh-Hans", false)] {
        for words in ["あ*い、う*い", "あ**い、う**い"] {
            let layout = laid(language, SIGNS, words);
            let line = line(&layout, 0);
            let plain = laid(language, SIGNS, &words.replace('*', ""));
            assert_eq!(
                line.width, plain.panels[0].lines[0].width,
                "dots take no room"
            );
            let dots = dots(line);
            // In the middle of the second sign's square and of the fourth's.
            let middles: Vec<f64> = dots
                .iter()
                .map(|dot| (dot.centre.x - line.x).as_pt())
                .collect();
            assert_eq!(middles.len(), 2, "{middles:?}");
            assert!((middles[0] - 15.0).abs() < 0.01 && (middles[1] - 35.0).abs() < 0.01);
            for dot in &dots {
                let up = line.baseline - dot.centre.y;
                let square = if above {
                    SIZE * 88 / 100
                } else {
                    SIZE * -12 / 100
                };
                let half = SIZE / 2;
                let mark = if above {
                    (square, square + half)
                } else {
                    (square - half, square)
                };
                assert!(mark.0 < up - dot.radius && up + dot.radius < mark.1);
            }
            assert_eq!(told(&layout), []);
        }
    }
}

/// A reading takes the room above its base: there the dots stand below.
#[test]
fn signs_with_readings_have_their_dots_below() {
    let layout = laid("ja", SIGNS, "*あ雪《ゆき》い*");
    let line = line(&layout, 0);
    let below: Vec<bool> = dots(line)
        .iter()
        .map(|dot| dot.centre.y > line.baseline)
        .collect();
    assert_eq!(below, [false, true, false]);
}

/// Beside letters that are written without spaces, emphasis ends at any punctuation.
#[test]
fn emphasis_ends_behind_brackets_and_stops_without_a_space() {
    for (language, words, stressed) in [
        ("ja", "*「あ」*い", 1),
        ("ja", "い*「あ」*", 1),
        ("ja", "い*あい。*い", 2),
        ("zh-Hans", "*《雪》*雪", 1),
    ] {
        let layout = laid(language, SIGNS, words);
        let line = line(&layout, 0);
        assert_eq!(line.text, words.replace('*', ""));
        assert_eq!(dots(line).len(), stressed, "{words}");
    }
}

/// Emphasis is told or shown whatever is done with capitals.
#[test]
fn an_emphasised_word_of_capitals_is_told_where_nothing_shows_it() {
    let text =
        "typeface = \"fonts-open/alegreya/Alegreya-Regular.ttf\"\ncapitals = \"letterspaced\"";
    let layout = laid("en", text, "The POST and the *POST*\n");
    assert_eq!(told(&layout).len(), 1);
}

/// They are artifacts: what a reader gets is as without them, as text and as paths.
#[test]
fn dots_are_no_words() {
    let layout = laid("ja", SIGNS, "あ*い、う*い");
    let plain = laid("ja", SIGNS, "あい、うい");
    for words_as in [WordsAs::Text, WordsAs::Paths] {
        let dotted = layers(&layout, words_as).expect("layers");
        let bare = layers(&plain, words_as).expect("layers");
        for (dotted, bare) in dotted.iter().zip(&bare) {
            assert_eq!(dotted.words, bare.words);
            assert_ne!(dotted.bytes, bare.bytes);
            if words_as == WordsAs::Text {
                read_back(&dotted.bytes, &dotted.words, &dotted.name).expect("as written");
            }
        }
    }
    let shown = |layout: &Layout| versefold::layout::shown(layout);
    assert_ne!(
        shown(&layout),
        shown(&plain),
        "whoever has placed the layer must replace it"
    );
}

/// Words that are emphasised on the second line of a text, in scripts without an italic.
const UPRIGHT: [(&str, &str, &str, &str); 3] = [
    (
        "ar",
        "Amiri",
        "Arabic",
        "باص الشتاء\nيصعد *الجبل*\nيصعد *الجبل*\n",
    ),
    (
        "hi",
        "Noto Serif Devanagari",
        "Devanagari",
        "सर्दी की\nबस *पहाड़* पर\n*पहाड़*\n",
    ),
    (
        "th",
        "Noto Serif Thai",
        "Thai",
        "รถเมล์\nฤดู **หนาว**\n*หนาว*\n",
    ),
];

#[test]
fn what_no_face_shows_is_told_once_with_its_first_place() {
    for (language, family, script, words) in UPRIGHT {
        let folder = family.to_lowercase().replace(' ', "-");
        let file = family.replace(' ', "");
        let text = format!("typeface = \"fonts-open/{folder}/{file}-Regular.ttf\"");
        let layout = laid(language, &text, words);
        let told = told(&layout);
        assert_eq!(told.len(), 1, "{told:?}");
        let name = format!("{file}-Regular has neither italic nor bold of its own for {script}");
        assert!(told[0].0 == 2 && told[0].1.contains(&name), "{told:?}");
        let plain = laid(language, &text, &words.replace('*', ""));
        let second = |layout| starts(line(layout, 1));
        assert_eq!(second(&layout), second(&plain), "nothing is faked");
    }
}

#[test]
fn the_bold_of_a_family_shows_what_it_has_no_italic_for() {
    let hebrew = (
        "he",
        "Noto Serif Hebrew",
        "Hebrew",
        "אוטובוס\nהחורף *עולה*\n",
    );
    for (language, family, _, words) in UPRIGHT.into_iter().chain([hebrew]) {
        let layout = laid(language, &format!("typeface = \"{family}\""), words);
        let bold = format!("{}-Bold", family.replace(' ', ""));
        assert!(faces(line(&layout, 1)).contains(&bold.as_str()), "{family}");
        assert_eq!(told(&layout), []);
    }
}

#[test]
fn another_weight_shows_what_the_italic_cannot() {
    let only = "typeface = { regular = \"fonts-open/alegreya/Alegreya-Regular.ttf\", \
                bold = \"fonts-open/alegreya/Alegreya-Bold.ttf\" }";
    let layout = laid("en-GB", only, "The *winter* bus\n");
    assert_eq!(
        faces(line(&layout, 0)),
        ["Alegreya-Regular", "Alegreya-Bold", "Alegreya-Regular"]
    );
    assert_eq!(told(&layout), []);
}
