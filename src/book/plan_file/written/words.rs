//! Values that are one word out of a few.

use crate::names::{
    Cover, Direction, FoldKind, Grain, JoinKind, LinesRun, Score, SetAs, Sides, Turned, Vertical,
};
use crate::plan::{
    Align, Caesura, CapitalsStyle, Hang, HeadingAlign, HeadingFace, OpeningWords, Pairing,
    RuleName, WrapperKind,
};
use crate::reading::Choice;

macro_rules! choices {
    ($($kind:ty { $($word:literal => $value:expr),+ $(,)? };)+) => { $(
        impl Choice for $kind {
            fn words() -> Vec<(&'static str, Self)> {
                vec![$(($word, $value)),+]
            }
        }
    )+ };
}

choices! {
    Sides { "both" => Sides::Both, "front" => Sides::Front };
    Cover { "self" => Cover::SelfCover, "boards" => Cover::Boards, "wrapper" => Cover::Wrapper };
    FoldKind { "mountain" => FoldKind::Mountain, "valley" => FoldKind::Valley };
    Turned { "head-to-head" => Turned::HeadToHead, "head-to-foot" => Turned::HeadToFoot };
    Direction { "left-to-right" => Direction::LeftToRight, "right-to-left" => Direction::RightToLeft };
    LinesRun { "across" => LinesRun::Across, "down" => LinesRun::Down };
    SetAs { "verse" => SetAs::Verse, "prose" => SetAs::Prose };
    Align {
        "left" => Align::Left,
        "right" => Align::Right,
        "centre" => Align::Centre,
        "justified" => Align::Justified,
        "longest-line" => Align::LongestLine,
        "usual-longest" => Align::UsualLongest,
    };
    Vertical {
        "head" => Vertical::Head,
        "centre" => Vertical::Centre,
        "optical-centre" => Vertical::OpticalCentre,
        "foot" => Vertical::Foot,
    };
    HeadingFace {
        "roman" => HeadingFace::Roman,
        "italic" => HeadingFace::Italic,
        "bold" => HeadingFace::Bold,
        "small-caps" => HeadingFace::SmallCaps,
        "capitals" => HeadingFace::Capitals,
    };
    HeadingAlign {
        "left" => HeadingAlign::Left,
        "right" => HeadingAlign::Right,
        "centre" => HeadingAlign::Centre,
        "longest-line" => HeadingAlign::LongestLine,
    };
    Caesura { "as-written" => Caesura::AsWritten, "aligned" => Caesura::Aligned };
    CapitalsStyle {
        "as-written" => CapitalsStyle::AsWritten,
        "letterspaced" => CapitalsStyle::Letterspaced,
        "small" => CapitalsStyle::Small,
    };
    OpeningWords {
        "as-written" => OpeningWords::AsWritten,
        "small-caps" => OpeningWords::SmallCaps,
        "capitals" => OpeningWords::Capitals,
    };
    Hang { "none" => Hang::None, "quotes" => Hang::Quotes, "all" => Hang::All };
    Pairing { "facing" => Pairing::Facing, "behind" => Pairing::Behind };
    Score { "crease" => Score::Crease, "cut" => Score::Cut };
    Grain { "long" => Grain::Long, "short" => Grain::Short };
    JoinKind { "tab" => JoinKind::Tab, "hinge" => JoinKind::Hinge, "doubled" => JoinKind::Doubled };
    WrapperKind { "folded" => WrapperKind::Folded, "band" => WrapperKind::Band };
}

impl Choice for RuleName {
    fn words() -> Vec<(&'static str, RuleName)> {
        RuleName::ALL.map(|(rule, word, _)| (word, rule)).to_vec()
    }
}
