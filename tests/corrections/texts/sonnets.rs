//! Barrett Browning's *Sonnets from the Portuguese*: stanzas of fourteen long lines, which no panel holds.

use super::Text;

pub const TEXT: Text = Text {
    name: "sonnets",
    file: "en_barrett",
    prose: false,
    title: "Poems for R. B.",
    made_ready: &[],
    corrections: [
        (
            "a misspelt word",
            "how Theocritus had sung",
            "how Theocritos had sung",
        ),
        (
            "a full stop",
            "A shadow across me.  Straightway",
            "A shadow across me; straightway",
        ),
        ("a word", "in gradual vision", "in sudden vision"),
        (
            "a word less",
            "The sweet, sad years, the melancholy years,",
            "The sweet years, the melancholy years,",
        ),
        (
            "a word more",
            "So weeping, how a mystic",
            "So weeping, how some great mystic",
        ),
        (
            "a line",
            "Nor the seas change us, nor the tempests bend;",
            "Nor the winds turn us, nor the waters rend;",
        ),
        (
            "a line, now too long for one",
            "So darkly on my eyelids, as to amerce",
            "So darkly and so heavily on both my eyelids, as to amerce",
        ),
        (
            "a line cut near the head",
            "   Of the sweet years, the dear and wished-for years,\n",
            "",
        ),
        (
            "a line cut near the middle",
            "   The sweet, sad years, the melancholy years,\n",
            "",
        ),
        (
            "a sonnet's last line cut",
            "   The silver answer rang, “Not Death, but Love.”\n",
            "",
        ),
        (
            "three lines cut",
            "   Men could not part us with their worldly jars,\n   Nor the seas change us, nor the tempests bend;\n   Our hands would touch for all the mountain-bars:\n",
            "",
        ),
        (
            "a line added near the head",
            "   Have heard this word",
            "   Have known, have weighed, or in their silence guessed,\n   Have heard this word",
        ),
        (
            "a line added near the middle",
            "   Those of my own life,",
            "   The years that nobody would ask of me,\n   Those of my own life,",
        ),
        (
            "a line added at a sonnet's end",
            "   The silver answer rang, “Not Death, but Love.”\n",
            "   The silver answer rang, “Not Death, but Love.”\n   And after that, a silence, and the dove.\n",
        ),
        (
            "a motto added between",
            "   But only three in all",
            "   Three are the witnesses, and one is dumb.\n   The other two are I, and thou art come.\n\n   But only three in all",
        ),
        (
            "two lines changed about",
            "   My sight from seeing thee,—that if I had died,\n   The death-weights, placed there, would have signified\n",
            "   The death-weights, placed there, would have signified\n   My sight from seeing thee,—that if I had died,\n",
        ),
        (
            "the octave's halves changed about",
            "   I thought once how Theocritus had sung\n   Of the sweet years, the dear and wished-for years,\n   Who each one in a gracious hand appears\n   To bear a gift for mortals, old or young:\n   And, as I mused it in his antique tongue,\n   I saw, in gradual vision through my tears,\n",
            "   And, as I mused it in his antique tongue,\n   I saw, in gradual vision through my tears,\n   I thought once how Theocritus had sung\n   Of the sweet years, the dear and wished-for years,\n   Who each one in a gracious hand appears\n   To bear a gift for mortals, old or young:\n",
        ),
        (
            "another title",
            "# Poems for R. B.",
            "# Sonnets from the Portuguese",
        ),
        (
            "two lines joined",
            "said in mastery, while I strove,—\n   “Guess",
            "said in mastery, while I strove,— “Guess",
        ),
        (
            "a line cut in two",
            "“Nay” is worse\n",
            "“Nay”\n   is worse\n",
        ),
    ],
};
