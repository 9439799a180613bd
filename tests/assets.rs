//! A book whose files another program keeps: what is opened, when, and what of it stays in memory.

use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::sync::{Arc, Mutex};

use versefold::assets::{Assets, Content, Store, Unread};
use versefold::book::plan_file::check;
use versefold::book::{BookTexts, Workbench};
use versefold::plan::TextStyle;
use versefold::typeface::FontLibrary;

/// The sample book as it is asked for, name by name.
#[derive(Clone, Default)]
struct Watched(Arc<Mutex<Vec<String>>>);

impl Watched {
    fn opened(&self) -> Vec<String> {
        let mut opened = std::mem::take(&mut *self.0.lock().expect("names"));
        opened.sort();
        opened
    }

    fn path(name: &str) -> std::path::PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("examples/winter-bus")
            .join(name)
    }
}

impl Store for Watched {
    fn open(&self, name: &str) -> Result<Box<dyn Content + '_>, Unread> {
        self.0.lock().expect("names").push(name.to_string());
        let bytes = fs::read(Watched::path(name)).map_err(|_| Unread::Missing(None))?;
        Ok(Box::new(Cursor::new(bytes)))
    }

    fn holds(&self, name: &str) -> bool {
        Watched::path(name).exists()
    }
}

#[test]
fn scans_are_opened_when_they_are_asked_for_and_not_before() {
    let store = Watched::default();
    let mut bench = Workbench::new(Assets::new(store.clone()));
    let texts: BookTexts = bench.read_files().expect("texts");
    assert_eq!(store.opened(), ["concertina.toml", "winter-bus.txt"]);
    let layout = bench
        .lay_out_book(&texts, Default::default())
        .expect("a layout");
    assert_eq!(store.opened(), [""; 0], "the words need no scan");
    let plan = bench.plan(&texts.plan).expect("a plan");
    let (scans, _) = bench.scans(&plan, &layout).expect("the scans");
    let named = plan
        .pictures
        .iter()
        .filter_map(|picture| Some(&picture.art.as_ref()?.file));
    let mut named: Vec<String> = named.cloned().collect();
    named.sort();
    assert_eq!(store.opened(), named);
    assert!(named.len() > 3 && named.iter().all(|name| name.starts_with("art/")));
    assert_eq!(scans.len(), named.len());
}

#[test]
fn what_the_store_does_not_have_is_told_at_its_place_in_the_plan() {
    let plan = "title = \"A\"\nlanguage = \"en\"\nmanuscript = \"gone.txt\"\n[paper]\n\
                panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 4\n";
    let nothing = Workbench::new(Assets::memory())
        .lay_out()
        .expect_err("no plan");
    assert_eq!(nothing.to_string(), "`concertina.toml` is missing");
    let memory = Assets::memory().with("concertina.toml", plan);
    let faults = Workbench::new(memory).lay_out().expect_err("no manuscript");
    assert_eq!(
        faults.to_string(),
        "concertina.toml:3:14: `gone.txt` is missing"
    );
}

/// A font is kept as long as something is set in it, and no longer.
#[test]
fn a_font_is_freed_with_the_last_that_uses_it() {
    let font = include_bytes!("../fonts-open/alegreya/Alegreya-Regular.ttf").as_slice();
    let style = |file: &str| -> TextStyle {
        let plan = format!(
            "title = \"A\"\nlanguage = \"en\"\nmanuscript = \"a.txt\"\n[paper]\npanel-width = \"105 mm\"\n\
             panel-height = \"148 mm\"\npanels-per-side = 4\n[text]\ntypeface = \"{file}\"\n"
        );
        let source = versefold::names::Source::new("concertina.toml", plan);
        check::read(&source).expect("a plan").text.clone()
    };
    let fonts = FontLibrary::new(
        Assets::memory()
            .with("own.ttf", font)
            .with("same.ttf", font),
    );
    let typeface = fonts.typeface(&style("own.ttf")).expect("a typeface");
    let same = fonts
        .typeface(&style("same.ttf"))
        .expect("the same typeface");
    assert!(
        Arc::ptr_eq(&typeface.main.regular, &same.main.regular),
        "kept twice"
    );
    let face = Arc::downgrade(&typeface.main.regular);
    drop((typeface, same));
    assert!(face.upgrade().is_some(), "the library remembers it");
    drop(fonts);
    assert!(face.upgrade().is_none(), "it is leaked");
}
