//! Stevenson's *Travels with a Donkey*: prose. The one long paragraph of the excerpt is set as three, so that there are
//! some to cut and to add to.

use super::Text;

pub const TEXT: Text = Text {
    name: "donkey",
    file: "en_stevenson",
    prose: true,
    title: "Travels with a Donkey in the Cevennes",
    made_ready: &[
        (
            "mere mountain Poland.  In the midst",
            "mere mountain Poland.\n\nIn the midst",
        ),
        (
            "through the Cevennes.  A traveller of my",
            "through the Cevennes.\n\nA traveller of my",
        ),
    ],
    corrections: [
        (
            "a misspelt word",
            "a pleasant highland valley",
            "a plesant highland valley",
        ),
        (
            "a comma",
            "each other.  Except for business purposes,",
            "each other.  Except, for business purposes,",
        ),
        (
            "an accent",
            "Le Puy, I spent about",
            "Le Puÿ, I spent about",
        ),
        (
            "a word",
            "unparalleled political dissension",
            "unequalled political dissension",
        ),
        (
            "a word of the same length",
            "the inclement Pole",
            "the tenebrous Pole",
        ),
        (
            "a word less",
            "a good deal from my projected",
            "a deal from my projected",
        ),
        (
            "a word more",
            "every one was anxious to be kind",
            "every one was most touchingly anxious to be kind",
        ),
        (
            "a phrase",
            "a crowd of sympathisers supported me",
            "half of the town came along to support me",
        ),
        ("a sentence cut", "  'Tis a mere mountain Poland.", ""),
        (
            "a long sentence cut",
            "  Except for business purposes, or to give each other the lie in a tavern brawl, they have laid aside even the civility of speech.",
            "",
        ),
        (
            "a sentence added",
            "heard of in that district.",
            "heard of in that district.  Nobody came there who had not been sent.",
        ),
        (
            "a sentence added at the head",
            "In a little place called",
            "I had come there to be quiet.  In a little place called",
        ),
        (
            "a paragraph added",
            "In the midst of this Babylon",
            "I took no side, and was told by each of the four that I was right.\n\nIn the midst of this Babylon",
        ),
        (
            "a long paragraph added",
            "A traveller of my sort",
            "It was to be a journey of twelve days, on foot, with nothing to carry; and that is how I came to want a donkey. I had seen mules, and thought them proud. I had seen ponies, and thought them dear. What I looked for was something small, cheap and hardy, and of a stolid and peaceful temper.\n\nA traveller of my sort",
        ),
        (
            "a paragraph cut",
            "In the midst of this Babylon I found myself a rallying-point; every one was anxious to be kind and helpful to the stranger.  This was not merely from the natural hospitality of mountain people, nor even from the surprise with which I was regarded as a man living of his own free will in Le Monastier, when he might just as well have lived anywhere else in this big world; it arose a good deal from my projected excursion southward through the Cevennes.\n\n",
            "",
        ),
        (
            "two phrases changed about",
            "for drunkenness, for freedom of language,",
            "for freedom of language, for drunkenness,",
        ),
        (
            "two sentences changed about",
            "Monastier is notable for the making of lace, for drunkenness, for freedom of language, and for unparalleled political dissension.  There are adherents of each of the four French parties--Legitimists, Orleanists, Imperialists, and Republicans--in this little mountain-town; and they all hate, loathe, decry, and calumniate each other.",
            "There are adherents of each of the four French parties--Legitimists, Orleanists, Imperialists, and Republicans--in this little mountain-town; and they all hate, loathe, decry, and calumniate each other.  Monastier is notable for the making of lace, for drunkenness, for freedom of language, and for unparalleled political dissension.",
        ),
        (
            "another title",
            "# Travels with a Donkey in the Cevennes",
            "# The Donkey and the Pack",
        ),
        (
            "two paragraphs joined",
            "mere mountain Poland.\n\nIn the midst",
            "mere mountain Poland.  In the midst",
        ),
        (
            "a paragraph cut in two",
            "to the stranger.  This was not",
            "to the stranger.\n\nThis was not",
        ),
    ],
};
