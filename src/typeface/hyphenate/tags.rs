//! Which patterns belong to a language tag (BCP 47).

/// The patterns that are used, by the codes of the crate, with the script they are written in. What their
/// licences are, and which others are left out for theirs, is told in `LICENSE-PATTERNS.md`.
const PATTERNS: &[(&str, &str)] = &[
    ("af", "latn"),
    ("as", "beng"),
    ("be", "cyrl"),
    ("bg", "cyrl"),
    ("bn", "beng"),
    ("ca", "latn"),
    ("cop", "copt"),
    ("cu", "cyrl"),
    ("cy", "latn"),
    ("da", "latn"),
    ("de-1901", "latn"),
    ("de-1996", "latn"),
    ("de-ch-1901", "latn"),
    ("el-monoton", "grek"),
    ("el-polyton", "grek"),
    ("en-gb", "latn"),
    ("en-us", "latn"),
    ("eo", "latn"),
    ("es", "latn"),
    ("et", "latn"),
    ("eu", "latn"),
    ("fi", "latn"),
    ("fi-x-school", "latn"),
    ("fr", "latn"),
    ("fur", "latn"),
    ("ga", "latn"),
    ("gl", "latn"),
    ("grc", "grek"),
    ("gu", "gujr"),
    ("hi", "deva"),
    ("hr", "latn"),
    ("hsb", "latn"),
    ("hu", "latn"),
    ("hy", "armn"),
    ("ia", "latn"),
    ("is", "latn"),
    ("it", "latn"),
    ("ka", "geor"),
    ("kmr", "latn"),
    ("kn", "knda"),
    ("la", "latn"),
    ("la-x-classic", "latn"),
    ("la-x-liturgic", "latn"),
    ("lt", "latn"),
    ("lv", "latn"),
    ("ml", "mlym"),
    ("mn-cyrl", "cyrl"),
    ("mr", "deva"),
    ("mul-ethi", "ethi"),
    ("nb", "latn"),
    ("nl", "latn"),
    ("nn", "latn"),
    ("oc", "latn"),
    ("or", "orya"),
    ("pa", "guru"),
    ("pi", "latn"),
    ("pl", "latn"),
    ("pms", "latn"),
    ("pt", "latn"),
    ("rm", "latn"),
    ("ru", "cyrl"),
    ("sa", "deva"),
    ("sh-cyrl", "cyrl"),
    ("sh-latn", "latn"),
    ("sl", "latn"),
    ("sq", "latn"),
    ("sv", "latn"),
    ("ta", "taml"),
    ("te", "telu"),
    ("th", "thai"),
    ("tk", "latn"),
    ("tr", "latn"),
    ("uk", "cyrl"),
];

/// Patterns whose words have apostrophes within. English ones hold none, but `couldn’t` is one word.
pub(super) const APOSTROPHES: &[&str] = &[
    "af",
    "be",
    "el-monoton",
    "el-polyton",
    "en-gb",
    "en-us",
    "fr",
    "fur",
    "grc",
    "it",
    "oc",
    "pms",
    "rm",
    "sq",
    "uk",
];

/// Regions that divide English words by where they come from, not by how they sound.
const BRITISH: &[&str] = &["au", "gb", "ie", "in", "nz", "za"];

/// The codes of the patterns, which are language tags themselves.
pub(super) fn languages() -> impl Iterator<Item = &'static str> {
    PATTERNS.iter().map(|(code, _)| *code)
}

/// The patterns for a tag (`de-CH` writes ss for ß, but divides by the rules of 1996, as the patterns for them do:
/// `Fens-ter`, `Stras-se`; the Swiss patterns that there are hold for the spelling before, `de-CH-1901`); nothing where there are none, or none in its script.
pub(super) fn patterns_for(tag: &str) -> Option<&'static str> {
    let tag = tag.to_ascii_lowercase();
    let mut subtags = tag.split('-');
    let primary = subtags.next()?;
    let rest: Vec<&str> = subtags.collect();
    let has = |subtag: &str| rest.contains(&subtag);
    let script = rest
        .iter()
        .take_while(|s| s.len() > 1)
        .find(|s| s.len() == 4 && s.chars().all(|c| c.is_ascii_alphabetic()));
    let code = match primary {
        "de" if has("1901") && (has("ch") || has("li")) => "de-ch-1901",
        "de" if has("1901") => "de-1901",
        "de" => "de-1996",
        "el" if has("polyton") => "el-polyton",
        "el" => "el-monoton",
        "en" if rest.iter().any(|subtag| BRITISH.contains(subtag)) => "en-gb",
        "en" => "en-us",
        "fi" if has("school") => "fi-x-school",
        "la" if has("classic") => "la-x-classic",
        "la" if has("liturgic") => "la-x-liturgic",
        "no" => "nb",
        "ku" => "kmr",
        "mn" => "mn-cyrl",
        "am" | "gez" | "ti" | "tig" | "mul" => "mul-ethi",
        "sr" if !has("latn") => "sh-cyrl",
        "bs" | "cnr" | "sh" if has("cyrl") => "sh-cyrl",
        "bs" | "cnr" | "sh" | "sr" => "sh-latn",
        other => other,
    };
    let (code, written) = PATTERNS.iter().find(|(known, _)| *known == code)?;
    script.is_none_or(|asked| asked == written).then_some(*code)
}
