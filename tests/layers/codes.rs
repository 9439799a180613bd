//! What glyphs are read by: a code of their own for each text that they stand for, so that few need an ActualText (ISO
//! 32000-1, 14.9.4), which not every reader knows.

use lopdf::Document;
use lopdf::content::Content;

use crate::support::{run_in, small_plan, temporary, write_book};

/// Words with points: Hebrew and Arabic written for this test, Devanagari, Thai.
const POINTED: [(&str, &str, &str); 4] = [
    (
        "he",
        "Noto Serif Hebrew",
        "הַשֶּׁלֶג עַל הַדֶּרֶךְ לָבָן\nוְהָאוֹטוֹבּוּס עוֹלֶה לְאַט\n",
    ),
    ("ar", "Amiri", "الثَّلْجُ عَلَى الطَّرِيقِ أَبْيَضُ\nوَالْحَافِلَةُ تَصْعَدُ بِبُطْءٍ\n"),
    (
        "hi",
        "Noto Serif Devanagari",
        "सड़क पर बर्फ़ की चुप्पी\nऔर बस धीरे चढ़ती है\n",
    ),
    (
        "th",
        "Noto Serif Thai",
        "หิมะอยู่บนถนนที่ภูเขา\nรถไปรษณีย์ขึ้นไปช้าช้า\n",
    ),
];

/// At most one ActualText stands in a line, that of all its marks together, and it is empty.
#[test]
fn marks_of_a_line_are_left_aside_together_and_all_else_is_read_by_codes() {
    for (language, typeface, poem) in POINTED {
        let temp = temporary();
        let plan = small_plan(
            2,
            &format!("[text]\ntypeface = \"{typeface}\"\nleading = \"21 pt\"\n"),
        );
        let plan = plan.replace("en-GB", language);
        write_book(temp.path(), &plan, poem);
        run_in(temp.path(), &["layers", "--quiet"]).done();
        let layer = Document::load(temp.path().join("out/layers/front.pdf")).expect("a PDF");
        let (mut lines, mut said) = (0, Vec::new());
        for page in layer.page_iter() {
            let content = layer.get_page_content(page);
            let operations = Content::decode(&content).expect("operators").operations;
            for operation in operations.iter().filter(|one| one.operator == "BDC") {
                let properties = operation.operands[1].as_dict().expect("inline properties");
                lines += usize::from(properties.has(b"MCID"));
                if let Ok(text) = properties.get(b"ActualText") {
                    said.push(text.as_str().expect("a text").to_vec());
                }
            }
        }
        assert_eq!(lines, 2, "{language}");
        assert!(said.len() <= lines, "{language}: {said:?}");
        assert!(
            said.iter().all(|text| text.len() <= 2),
            "{language}: {said:?}"
        );
    }
}
