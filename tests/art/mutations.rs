//! Whatever bytes a file has, it is read or it is told; nothing else happens.

use jpeg_encoder::ColorType;
use proptest::prelude::*;

use crate::art::files::{jpeg, slopes};
use crate::art::lossless::lossless;
use crate::art::read;

fn every_file() -> Vec<(&'static str, Vec<u8>)> {
    let mut files: Vec<_> = lossless()
        .into_iter()
        .map(|file| (file.name, file.bytes))
        .collect();
    for (name, colour, channels) in [
        ("grey.jpg", ColorType::Luma, 1),
        ("rgb.jpg", ColorType::Rgb, 3),
        ("inks.jpg", ColorType::CmykAsYcck, 4),
    ] {
        for progressive in [false, true] {
            let bytes = jpeg(colour, &slopes(channels), |encoder| {
                encoder.set_progressive(progressive);
                encoder.add_icc_profile(&[7; 200]).expect("a segment");
            });
            files.push((name, bytes));
        }
    }
    files
}

/// The files are small, so that changes hit headers and tags as often as pixels.
#[test]
fn changed_bytes_are_read_or_told() {
    let files = every_file();
    let strategy = (
        0..files.len(),
        prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
        prop::option::of(any::<prop::sample::Index>()),
    );
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        failure_persistence: None,
        cases: 1500,
        ..Default::default()
    });
    let (mut sound, mut told) = (0, 0);
    let ran = {
        let counts = std::cell::RefCell::new((&mut sound, &mut told));
        runner.run(&strategy, |(at, changes, cut)| {
            let (name, mut bytes) = files[at].clone();
            for (place, byte) in changes {
                let place = place.index(bytes.len());
                bytes[place] = byte;
            }
            if let Some(cut) = cut {
                bytes.truncate(cut.index(bytes.len()));
            }
            let mut counts = counts.borrow_mut();
            match read(name, &bytes) {
                Ok(art) => {
                    prop_assert!(art.width() > 0 && art.height() > 0);
                    *counts.0 += 1;
                }
                Err(fault) => {
                    let known = ["damaged", "wrong-kind", "too-large", "wrong-name"];
                    prop_assert!(known.contains(&fault.word), "{}", fault.word);
                    *counts.1 += 1;
                }
            }
            Ok(())
        })
    };
    assert!(ran.is_ok(), "{}", ran.unwrap_err());
    assert!(sound > 50 && told > 50, "{sound} sound, {told} told");
}

#[test]
fn bytes_behind_a_sound_beginning_are_told() {
    let beginnings: [&[u8]; 4] = [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"II*\0", b"MM\0+"];
    proptest!(ProptestConfig { failure_persistence: None, cases: 1000, ..Default::default() },
    |(kind in 0..4_usize, more in prop::collection::vec(any::<u8>(), 0..200))| {
        let bytes = [beginnings[kind], &more].concat();
        prop_assert!(read("scan", &bytes).is_err());
    });
}
