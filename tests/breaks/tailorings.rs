//! Each tailoring by its name.

use super::{check, tailorings};
use versefold::setting::Tailoring;

#[test]
fn plain_words_are_broken_at_spaces() {
    check(
        "en",
        &[
            "The|bus|left|at|six,|and|nobody|waved.",
            "no-¦break\u{a0}spaces|hold,|and\u{202f}narrow|ones",
            "“Stop!”|she|said|(late).",
            "Don’t|say|it’s|o’clock",
        ],
    );
    // Runs of spaces and tabs are one break; at a text's ends there is none.
    assert_eq!(super::shown("en", "  a  \t b\t"), "  a|b\t");
    assert_eq!(super::shown("en", "  \t "), "  \t ");
    assert_eq!(super::shown("en", ""), "");
}

#[test]
fn spaced_marks_stay_with_what_they_enclose() {
    check(
        "fr",
        &[
            "Il|dit|« le|col|est|fermé »,|et|s’assit.",
            "« Bonjour »,|dit-¦elle.",
            "(« Non »)",
            "une|« route » !",
        ],
    );
    check("it", &["Disse:|« È|chiuso »."]);
    check("ru", &["Он|сказал:|« Закрыто »,|и сел."]);
    // Danish and German turn guillemets about, but for Switzerland and for who does not.
    check("de", &["Sie|rief:|» Halt! «|und|hielt."]);
    check("de", &["Sie|rief:|« Halt! »|und|hielt."]);
    check("de-CH", &["Sie|rief:|« Halt! »|und|hielt."]);
    check("da", &["Hun|råbte:|» Stop! «|og|holdt."]);
    check("hr", &["Rekla|je:|» Stani! «|i|stala."]);
    check("hr", &["Rekla|je:|« Stani! »|i|stala."]);
    // Those with a low mark in front end with the mark that begins English ones.
    check("de", &["Sie|rief:|„ Halt! “|und|hielt."]);
    check("en", &["She|called|“ Stop! ”|and|stopped."]);
    check(
        "en",
        &["She|called|\" Stop! \"|and|stopped|\" there \"|at|last."],
    );
    // At the ends the place tells, whatever the shape.
    check("fr", &["le|col|est|fermé »", "« le|col"]);
    check("sv", &["” Stanna|där ”"]);
    assert_eq!(
        tailorings("it", "Disse « Chiuso » e"),
        [Tailoring::SpacedMarks; 2]
    );
}

#[test]
fn french_guillemets_and_high_punctuation() {
    check("fr", &["Halte !|dit-¦il ;|où|vas-¦tu ?|Là :|ici"]);
    check("fr-CA", &["mot »suite"]);
    assert_eq!(
        tailorings("fr", "mot »suite et « encore"),
        [Tailoring::FrenchGuillemets, Tailoring::SpacedMarks]
    );
    check("en", &["word|»next"]);
}

#[test]
fn dashes_end_lines() {
    check(
        "en",
        &[
            "the|bus —|late|again –|climbed",
            "the|bus—÷late–÷again--÷climbed―÷on",
            "“no—÷“yes”",
            "the|bus -|late",
            "at|–5°|below",
            "winter|1974–¦75|and|Chur–÷Sargans",
            "snow—”|she|said",
        ],
    );
    assert_eq!(tailorings("en", "bus — late"), [Tailoring::DashesEndLines]);
}

#[test]
fn dashes_cling() {
    // A dash that opens dialogue is not parted from its first word.
    check(
        "es",
        &[
            "—Está|cerrado|—dijo|Marta—.|Vuelva|mañana.",
            "— Está|cerrado",
            "No|sé|—respondió—,|pero|sube.",
        ],
    );
    check("fr", &["— Oui,|dit-¦il.", "« — Oui »"]);
    check("pl", &["– Zamknięte –|powiedziała."]);
    check("ru", &["— Закрыто, —|сказала|она."]);
    check("en", &["-- Not|yet", "- Not|yet"]);
    assert_eq!(tailorings("es", "—Está cerrado"), [Tailoring::DashesCling]);
}

#[test]
fn ellipses_begin_no_line() {
    check(
        "en",
        &[
            "snow …|then|sun ...|and|ice . . .|and|wind . . . .",
            "snow…÷then",
            "… and|so",
            "…and|so",
            "... and|so",
            "“… and|so”",
        ],
    );
    assert_eq!(tailorings("en", "snow … then"), [Tailoring::Ellipses]);
}

#[test]
fn hyphens_need_two_letters_on_either_side() {
    check(
        "en",
        &[
            "the|mail-¦bus|and|mother-¦in-¦law",
            "an|-ing|form,|an|e-mail,|a|T-shirt,|1974-75,|a|20-¦year-¦old",
            "mail-|and|parcel-¦bus",
            "pre\u{301}-¦war|ants’-¦nest",
        ],
    );
    assert_eq!(tailorings("en", "an e-mail"), [Tailoring::Hyphens]);
    // A soft hyphen is for hyphenation.
    check("en", &["moun\u{ad}tain|road"]);
    assert_eq!(tailorings("en", "moun\u{ad}tain"), [Tailoring::SoftHyphens]);
}

#[test]
fn slashes_part_longer_words() {
    check(
        "en",
        &["driver/¦conductor|and/or|km/h|he/she|1974/75", "snow /|sun"],
    );
    assert_eq!(tailorings("en", "and/or"), [Tailoring::Slashes]);
}

#[test]
fn addresses_are_broken_as_handbooks_say() {
    check(
        "en",
        &["See|https://¦winter¦.example¦/road¦-map¦.html¦?day¦=one¦&to¦=col."],
    );
    check(
        "en",
        &["(www¦.winter¦.example)|or|driver¦@winter¦.example,|please"],
    );
    check("en", &["mailto:¦driver¦@winter¦.example"]);
    check("en", &["winter.example|winter¦.example¦/bus|ftp://¦ab¦.cd"]);
    check("zh", &["请÷看÷https://¦winter¦.example¦/bus÷吗"]);
    assert!(
        tailorings("en", "https://winter.example")
            .iter()
            .all(|name| *name == Tailoring::Addresses)
    );
}

#[test]
fn numbers_stay_with_their_units_and_signs() {
    check(
        "en",
        &[
            "10 km|of|road,|5 %|grade,|−12 °C|at|3 pm|or|3 p.m.|or|7 o’clock",
            "§ 12|and|№ 5|on|p. 12|of|No. 7",
            "12|passengers,|page|12",
        ],
    );
    check("de", &["um|7 Uhr,|Nr. 5,|S. 12,|20 Fr.|Lohn"]);
    check("fr", &["à|18 h 30,|n° 5,|p. 12,|20 %"]);
    check("ru", &["10 км,|№ 5,|1974 г.,|с. 12"]);
    // What is a unit in one language is a word in another.
    check("en", &["7|Uhr"]);
    assert_eq!(tailorings("en", "10 km"), [Tailoring::Units]);
}

#[test]
fn thousands_are_one_number() {
    check("fr", &["1 000 000|de|pas,|12 345,5|francs"]);
    check("en", &["in|1974|350|buses,|bus|12|34|left", "A4|000"]);
    assert_eq!(tailorings("fr", "1 000"), [Tailoring::Thousands]);
}

#[test]
fn initials_stay_together_and_with_their_name() {
    check(
        "en",
        &["by|J. S. B. Tarn,|(J. S. Tarn)|and|Vitamin|C.|in|all"],
    );
    check("ru", &["А. С. Тарн"]);
    // Where words are shortened, what follows is no name.
    check("de", &["z. B.|Bergen", "J. B. Bergen"]);
    assert_eq!(tailorings("en", "J. S. Tarn"), [Tailoring::Initials; 2]);
}

#[test]
fn abbreviations_stay_with_the_name_behind() {
    check("en", &["Dear|Mr. Tarn,|St Aldan|and|the|Dr.|is|in"]);
    check("de", &["Frau|Dr. Tarn,|Hr. Tarn|und|der|hl. Aldan"]);
    check("fr", &["Chère|Mme Tarn,|M. Tarn|et|“Mlle Tarn”"]);
    check("cs", &["paní|Dr. Tarnová|a sv. Aldan"]);
    check("ru", &["г. Тарн|и д-р Тарн"]);
    check("el", &["ο|κ. Ταρν|και|ο|Αγ. Αλδανός"]);
    // One of several words is not parted.
    check("de", &["wie|z. B.|hier,|d. h. u. a.|dort"]);
    check("es", &["como,|p. ej.,|aquí"]);
    check("ru", &["снег,|т. е.|зима"]);
    check("en", &["in|plan|b.|He|went"]);
    // Behind a number it is a unit, and in another language a word as any.
    check("de", &["20 Fr.|Lohn"]);
    check("en", &["Mme|Tarn"]);
    assert_eq!(tailorings("en", "Dr. Tarn"), [Tailoring::Abbreviations]);
}

#[test]
fn one_letter_words_stay_with_the_next() {
    check("cs", &["V lese|i u řeky,|a k tomu|(z hory)|v. l."]);
    check("sk", &["s otcom|a o zime"]);
    check("pl", &["w lesie|i z domu,|„a on”"]);
    check("ru", &["в лесу|и к вечеру,|а он"]);
    // With a comma behind it, it is none of the next; other languages do not bind theirs.
    check("pl", &["i,|z domu"]);
    check("en", &["a|bus|I|saw"]);
    assert_eq!(tailorings("cs", "v lese"), [Tailoring::OneLetterWords]);
}

/// Words that any dictionary has; the texts are those of the demo's kind.
#[test]
fn words_of_complex_scripts() {
    check("th", &["ภาษา÷ไทย", "รถ÷ไปรษณีย์|และ|หิมะ", "สวัสดี÷ชาว÷โลก"]);
    check("lo", &["ພາສາ÷ລາວ"]);
    check("km", &["ខ្ញុំ÷ស្រឡាញ់"]);
    check("my", &["ကျွန်တော်÷စာအုပ်÷ဖတ်÷တယ်"]);
    // The sign of repetition and that of abbreviation stay with their word.
    check("th", &["ช้าๆ", "กรุงเทพฯ"]);
    assert_eq!(tailorings("th", "ภาษาไทย"), [Tailoring::ComplexScripts]);
    // Whatever the dictionary makes of names and old words, no vowel is parted from its consonant.
    let poem = include_str!("../texts/th_sunthorn_phu_nirat.txt");
    let mut inner = 0;
    for line in poem.lines() {
        for place in versefold::setting::opportunities(line, "th") {
            let (before, behind) = (&line[..place.end], &line[place.next..]);
            assert!(
                !before.ends_with(['เ', 'แ', 'โ', 'ใ', 'ไ', 'ั']),
                "{before}|{behind}"
            );
            assert!(
                !behind.starts_with(['ะ', 'า', 'ำ', 'ๅ']),
                "{before}|{behind}"
            );
            inner += usize::from(place.end == place.next);
        }
    }
    assert!(inner > 100, "only {inner} breaks between words");
    check("th", &["สุคนธา"]);
}

/// Rules of the W3C's requirements for Japanese and Chinese text layout (JLREQ, CLREQ), and of Korean books.
#[test]
fn east_asian_lines() {
    check(
        "ja",
        &[
            "冬÷の÷バ÷ス÷が÷来÷た。",
            "「ちょっ÷と÷待っ÷て！」÷と÷言っ÷た",
            "々÷は",
        ],
    );
    check(
        "zh",
        &[
            "她÷说，÷“别÷走！”÷然÷后……÷走÷了",
            "约÷翰·÷史÷密÷斯",
            "冬÷天÷——÷到÷了",
        ],
    );
    check("ko", &["겨울|버스가|산을|넘는다.", "KBS에서|본—÷산"]);
    assert_eq!(tailorings("zh", "说“别”然")[0], Tailoring::EastAsianQuotes);
    assert_eq!(tailorings("zh", "翰·史"), [Tailoring::EastAsianLineStarts]);
    assert_eq!(tailorings("ko", "겨울"), [Tailoring::KoreanWords]);
}

#[test]
fn later_rules_of_the_standard() {
    check("en", &["“it’s|late”|(she|said)|and|fell|by|.04|or|so"]);
    check("ja", &["dog÷（犬）÷を"]);
    check("he", &["כל־¦אדם|אל־¦תירא"]);
    let names = tailorings("en", "“late” (said) .04");
    assert_eq!(names, [Tailoring::LaterRules; 2]);
}

#[test]
fn clusters_stay_whole() {
    check("en", &["a \u{301}b", "👩\u{200d}🚀÷🇨🇭÷🇮🇹"]);
    assert_eq!(tailorings("en", "a \u{301}b"), [Tailoring::WholeClusters]);
}
