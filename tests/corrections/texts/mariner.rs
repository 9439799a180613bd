//! Coleridge's *Mariner*: stanzas of four and six short lines.

use super::Text;

pub const TEXT: Text = Text {
    name: "mariner",
    file: "en_coleridge",
    prose: false,
    title: "The Rime of the Ancient Mariner, in Seven Parts",
    made_ready: &[],
    corrections: [
        (
            "an apostrophe",
            "Was parched, and glazed",
            "Was parch'd, and glazed",
        ),
        (
            "a misspelt word",
            "seemed a little speck",
            "seemed a litle speck",
        ),
        (
            "a comma",
            "At one stride comes the dark;",
            "At one stride, comes the dark;",
        ),
        (
            "a word",
            "A certain shape, I wist.",
            "A ghastly shape, I wist.",
        ),
        (
            "a word more",
            "Quoth she, and whistles thrice.",
            "Quoth she, and shrilly whistles thrice.",
        ),
        (
            "a line",
            "It plunged and tacked and veered.",
            "It rolled, and pitched, and veered away.",
        ),
        (
            "a line, now too long for one",
            "A something in the sky.",
            "A something, little and low and black, a long way off, against the evening sky.",
        ),
        ("a stanza's line cut", "How glazed each weary eye,\n", ""),
        (
            "a stanza's first line cut",
            "The naked hulk alongside came,\n",
            "",
        ),
        (
            "a stanza's last line cut",
            "\nIt plunged and tacked and veered.",
            "",
        ),
        (
            "a stanza cut",
            "A speck, a mist, a shape, I wist!\nAnd still it neared and neared:\nAs if it dodged a water-sprite,\n\
             It plunged and tacked and veered.\n\n",
            "",
        ),
        (
            "a line added",
            "A certain shape, I wist.\n",
            "A certain shape, I wist,\nThe like I never saw before.\n",
        ),
        (
            "a line added at a stanza's head",
            "The Sun's rim dips;",
            "And then, before a man could pray,\nThe Sun's rim dips;",
        ),
        (
            "a stanza added",
            "The naked hulk alongside came,",
            "And nearer yet, and nearer yet,\nWith never a breath of wind;\nNo sail she had, no wake she left,\n\
             No foam before or behind.\n\nThe naked hulk alongside came,",
        ),
        (
            "two stanzas added",
            "At first it seemed a little speck,",
            "I cried aloud, I could not speak,\nNo sound came from my tongue;\nThe helmsman looked where I had looked\n\
             And to the wheel he clung.\n\nThe others looked, and saw it not,\nOr saw it and were dumb.\n\n\
             At first it seemed a little speck,",
        ),
        (
            "two lines changed about",
            "And the twain were casting dice;\n\"The game is done!  I've won!  I've won!\"\n",
            "\"The game is done!  I've won!  I've won!\"\nAnd the twain were casting dice;\n",
        ),
        (
            "two stanzas changed about",
            "A speck, a mist, a shape, I wist!\nAnd still it neared and neared:\nAs if it dodged a water-sprite,\n\
             It plunged and tacked and veered.\n\nThe naked hulk alongside came,\nAnd the twain were casting dice;\n\
             \"The game is done!  I've won!  I've won!\"\nQuoth she, and whistles thrice.\n",
            "The naked hulk alongside came,\nAnd the twain were casting dice;\n\
             \"The game is done!  I've won!  I've won!\"\nQuoth she, and whistles thrice.\n\n\
             A speck, a mist, a shape, I wist!\nAnd still it neared and neared:\nAs if it dodged a water-sprite,\n\
             It plunged and tacked and veered.\n",
        ),
        (
            "another title",
            "# The Rime of the Ancient Mariner, in Seven Parts",
            "# The Ancyent Marinere",
        ),
        (
            "two lines joined",
            "At first it seemed a little speck,\nAnd",
            "At first it seemed a little speck, and",
        ),
        (
            "a line cut in two",
            "weary time.  Each throat\n",
            "weary time.\nEach throat\n",
        ),
    ],
};
