//! The words of tables and pages, in both languages.

use crate::forecast::Word;
use crate::journal::Language;
use crate::sock::{Construction, HeelConstruction, Ribbing, SectionKind, ToeConstruction};

/// The words of one language.
#[derive(Debug)]
pub(super) struct Words {
    /// Its tag (RFC 5646).
    pub(super) tag: &'static str,
    pub(super) decimal_mark: char,
    pub(super) title: &'static str,
    pub(super) introduction: &'static str,
    pub(super) invented: &'static str,
    pub(super) pairs: &'static str,
    pub(super) pair: &'static str,
    pub(super) no_pair: &'static str,
    pub(super) no_section: &'static str,
    pub(super) only_sections: &'static str,
    pub(super) foot: &'static str,
    pub(super) state_of: &'static str,
    pub(super) state_unknown: &'static str,
    pub(super) other_files: &'static str,
    pub(super) older: &'static str,
    pub(super) older_behind: &'static str,
    pub(super) used_title: &'static str,
    pub(super) used_words: &'static str,
    pub(super) whiskers: &'static str,
    pub(super) sock_1: &'static str,
    pub(super) sock_2: &'static str,
    pub(super) and: &'static str,
    pub(super) yarn: &'static str,
    pub(super) not_marked: &'static str,
    pub(super) used_caption: &'static str,
    pub(super) used_heads: [&'static str; 6],
    pub(super) set_late: &'static str,
    pub(super) in_doubt: &'static str,
    pub(super) all_sections: &'static str,
    pub(super) yarn_left: &'static str,
    pub(super) left_by_days: &'static str,
    pub(super) left_by_order: &'static str,
    pub(super) days: &'static str,
    pub(super) order: &'static str,
    pub(super) a_line_each: &'static str,
    pub(super) yarns_caption: &'static str,
    pub(super) yarns_heads: [&'static str; 6],
    pub(super) not_known: &'static str,
    pub(super) left: &'static str,
    pub(super) good_for: &'static str,
    pub(super) good_for_heads: [&'static str; 4],
    pub(super) one_sock: &'static str,
    pub(super) both_socks: &'static str,
    pub(super) enough: &'static str,
    pub(super) close: &'static str,
    pub(super) short: &'static str,
    pub(super) from_nothing: &'static str,
    pub(super) from_sock_1: &'static str,
    pub(super) from_records: &'static str,
    pub(super) from_estimate: &'static str,
    pub(super) scaled: &'static str,
    pub(super) of_pairs: &'static str,
    pub(super) reserve: &'static str,
    pub(super) quarter: &'static str,
    pub(super) materials: &'static str,
    pub(super) materials_caption: &'static str,
    pub(super) materials_heads: [&'static str; 7],
    pub(super) together: &'static str,
    pub(super) materials_note: &'static str,
    pub(super) section_columns: &'static str,
    pub(super) yarn_columns: &'static str,
    pub(super) visit_columns: &'static str,
    pub(super) yes: &'static str,
    pub(super) no: &'static str,
}

/// The words of a language.
#[must_use]
pub(super) const fn words(language: Language) -> &'static Words {
    match language {
        Language::English => &ENGLISH,
        Language::German => &GERMAN,
    }
}

/// A part of a sock.
pub(super) const fn kind(kind: SectionKind, language: Language) -> &'static str {
    let (english, german) = match kind {
        SectionKind::Cuff => ("cuff", "Bund"),
        SectionKind::Leg => ("leg", "Schaft"),
        SectionKind::Heel => ("heel", "Ferse"),
        SectionKind::Gusset => ("gusset", "Zwickel"),
        SectionKind::Foot => ("foot", "Fuß"),
        SectionKind::Toe => ("toe", "Spitze"),
        SectionKind::Part1 => ("part 1", "Teil 1"),
        SectionKind::Part2 => ("part 2", "Teil 2"),
        SectionKind::Part3 => ("part 3", "Teil 3"),
        SectionKind::Part4 => ("part 4", "Teil 4"),
        SectionKind::Part5 => ("part 5", "Teil 5"),
        SectionKind::Part6 => ("part 6", "Teil 6"),
        SectionKind::Part7 => ("part 7", "Teil 7"),
        SectionKind::Part8 => ("part 8", "Teil 8"),
    };
    choose(english, german, language)
}

/// How a section is worked.
pub(super) const fn construction(construction: Construction, language: Language) -> &'static str {
    let (english, german) = match construction {
        Construction::Plain => ("plain", "glatt"),
        Construction::PartOf(_) => ("part", "Teil"),
        Construction::Ribbed(Ribbing::OneByOne) => ("rib 1x1", "Rippen 1x1"),
        Construction::Ribbed(Ribbing::TwoByTwo) => ("rib 2x2", "Rippen 2x2"),
        Construction::Ribbed(Ribbing::Twisted) => ("rib twisted", "Rippen verschränkt"),
        Construction::Heel(HeelConstruction::FlapAndGusset) => ("heel flap and gusset", "Käppchenferse"),
        Construction::Heel(HeelConstruction::ShortRow) => ("heel short row", "Ferse mit verkürzten Reihen"),
        Construction::Heel(HeelConstruction::Afterthought) => ("heel afterthought", "nachträgliche Ferse"),
        Construction::Toe(ToeConstruction::Wedge) => ("toe wedge", "Bandspitze"),
        Construction::Toe(ToeConstruction::Rounded) => ("toe rounded", "runde Spitze"),
        Construction::Toe(ToeConstruction::Asymmetric) => ("toe asymmetric", "asymmetrische Spitze"),
    };
    choose(english, german, language)
}

/// The answer to "will it do?".
pub(super) const fn answer(word: Word, words: &'static Words) -> &'static str {
    match word {
        Word::Enough => words.enough,
        Word::Close => words.close,
        Word::Short => words.short,
    }
}

const fn choose(english: &'static str, german: &'static str, language: Language) -> &'static str {
    match language {
        Language::English => english,
        Language::German => german,
    }
}

static ENGLISH: Words = Words {
    tag: "en",
    decimal_mark: '.',
    title: "Yarn by section",
    introduction: "Weighed on a yarn scale at each section's boundary. \u{B1} is the half-width of the 95&nbsp;% interval; it holds what the \
         moisture of the air may have done to the yarn between two weighings.",
    invented: "Invented demo: nobody knitted these pairs.",
    pairs: "Pairs",
    pair: "Pair",
    no_pair: "No pair has been begun on this scale yet. Begin one with its keys, mark the first section, and plug it in again.",
    no_section: "No section is marked yet.",
    only_sections: "Of this pair only the sections are kept: its yarns are not known any more.",
    foot: "Not for trade. What a next pair takes is an estimate: keep a reserve.",
    state_of: "This drive shows the scale as it was on",
    state_unknown: "This drive shows the scale as it was when it was plugged in",
    other_files: "what was weighed since is not on it yet. The tables are for a spreadsheet; BACKUP.BIN holds all there is, to keep in a safe \
         place; MANUAL.HTM says how to use the scale, CHECK.TXT how it is. Nothing can be written here.",
    older: "The newest pairs are here;",
    older_behind: "older ones are in SECTIONS.CSV.",
    used_title: "Yarn used by section, in grams",
    used_words: "Bars with 95&nbsp;% intervals, sock 1 plain, sock 2 hatched.",
    whiskers: "Whiskers: 95&nbsp;% interval.",
    sock_1: "sock 1",
    sock_2: "sock 2",
    and: "and",
    yarn: "yarn",
    not_marked: "not marked",
    used_caption: "What each section took, grams, with the half-width of its 95&nbsp;% interval",
    used_heads: ["Section", "Worked", "Yarn", "Sock 1", "Sock 2", "2 less 1"],
    set_late: "a mark was set afterwards",
    in_doubt: "in doubt: a record beside it is damaged",
    all_sections: "All marked sections",
    yarn_left: "Yarn left",
    left_by_days: "Yarn left, in grams, by days since the first weighing",
    left_by_order: "Yarn left, in grams, by weighings, one after the other",
    days: "days since the first weighing",
    order: "weighings, one after the other",
    a_line_each: "One line for each yarn.",
    yarns_caption: "The yarns of the pair, grams",
    yarns_heads: ["Yarn", "Weighed in", "In sections", "Elsewhere", "Left", "Left, metres"],
    not_known: "not known",
    left: "left",
    good_for: "What it is good for, best use first:",
    good_for_heads: ["For", "Answer", "Over (+) or missing (\u{2212}), g", "Rests on"],
    one_sock: "one sock",
    both_socks: "both socks",
    enough: "enough",
    close: "close",
    short: "short",
    from_nothing: "nothing to knit",
    from_sock_1: "sock 1",
    from_records: "own records",
    from_estimate: "estimate by stitches",
    scaled: "scaled",
    of_pairs: "pairs",
    reserve: "reserve",
    quarter: "(a quarter)",
    materials: "Materials",
    materials_caption: "Materials for a pattern, both socks",
    materials_heads: [
        "Section",
        "Took, g",
        "Took, m",
        "Reserve, g",
        "Allow, g",
        "Allow, m",
        "Reserve rests on",
    ],
    together: "together,",
    materials_note: "The reserve makes the yarn do for 95 of 100 such pairs, by the spread of the knitter's own; it holds the ends to weave \
         in. With fewer than three pairs it is a quarter over. Reserves do not add up: what one section takes more, another may take less. \
         Another knitter's gauge may ask for more.",
    section_columns: "pair,name,place,section,sock,yarn,construction,stitches,used_mg,u_mg,at_s,utc_s,utc,amended,late,doubtful",
    yarn_columns: "pair,name,yarn,yarn_name,m_per_100_g,weighed_in_mg,used_mg,elsewhere_mg,left_mg,u_mg,doubtful",
    visit_columns: "at_s,utc_s,utc,gross_mg,u_mg,bowl",
    yes: "true",
    no: "false",
};

static GERMAN: Words = Words {
    tag: "de",
    decimal_mark: ',',
    title: "Garn nach Abschnitten",
    introduction: "Gewogen auf einer Garnwaage am Ende jedes Abschnitts. \u{B1} ist die halbe Breite des 95-%-Bereichs; darin steckt auch, was \
         die Luftfeuchte zwischen zwei Wägungen am Garn geändert haben kann.",
    invented: "Erfundenes Beispiel: Diese Paare hat niemand gestrickt.",
    pairs: "Paare",
    pair: "Paar",
    no_pair: "Auf dieser Waage ist noch kein Paar begonnen. An den Tasten eines beginnen, den ersten Abschnitt markieren und wieder anstecken.",
    no_section: "Noch ist kein Abschnitt markiert.",
    only_sections: "Von diesem Paar sind nur die Abschnitte übrig: Seine Garne sind nicht mehr bekannt.",
    foot: "Nicht für den Handel. Was ein nächstes Paar braucht, ist geschätzt: eine Reserve behalten.",
    state_of: "Dieses Laufwerk zeigt den Stand vom",
    state_unknown: "Dieses Laufwerk zeigt den Stand beim Anstecken",
    other_files: "was seither gewogen wurde, fehlt noch. Die Tabellen sind für eine Tabellenkalkulation; SICHERUNG.BIN enthält alles und gehört an \
         einen sicheren Ort; ANLEITUNG.HTM sagt, wie die Waage bedient wird, PRUEFUNG.TXT, wie es ihr geht. Geschrieben werden kann hier nichts.",
    older: "Hier stehen die neuesten Paare;",
    older_behind: "ältere stehen in ABSCHNITTE.CSV.",
    used_title: "Verbrauch je Abschnitt, in Gramm",
    used_words: "Balken mit 95-%-Bereich, Socke 1 voll, Socke 2 schraffiert.",
    whiskers: "Striche: 95-%-Bereich.",
    sock_1: "Socke 1",
    sock_2: "Socke 2",
    and: "und",
    yarn: "Garn",
    not_marked: "nicht markiert",
    used_caption: "Was jeder Abschnitt brauchte, Gramm, mit der halben Breite des 95-%-Bereichs",
    used_heads: ["Abschnitt", "Gestrickt", "Garn", "Socke 1", "Socke 2", "2 minus 1"],
    set_late: "eine Marke wurde nachträglich gesetzt",
    in_doubt: "zweifelhaft: ein Eintrag daneben ist beschädigt",
    all_sections: "Alle markierten Abschnitte",
    yarn_left: "Rest der Garne",
    left_by_days: "Rest der Garne, in Gramm, nach Tagen seit der ersten Wägung",
    left_by_order: "Rest der Garne, in Gramm, Wägung für Wägung",
    days: "Tage seit der ersten Wägung",
    order: "Wägung für Wägung",
    a_line_each: "Eine Linie je Garn.",
    yarns_caption: "Die Garne des Paars, Gramm",
    yarns_heads: [
        "Garn",
        "Eingewogen",
        "In Abschnitten",
        "Anderswo",
        "Rest",
        "Rest, Meter",
    ],
    not_known: "nicht bekannt",
    left: "übrig",
    good_for: "Wofür es reicht, das Beste zuerst:",
    good_for_heads: ["Für", "Antwort", "Übrig (+) oder zu wenig (\u{2212}), g", "Beruht auf"],
    one_sock: "eine Socke",
    both_socks: "beide Socken",
    enough: "reicht",
    close: "knapp",
    short: "zu wenig",
    from_nothing: "nichts zu stricken",
    from_sock_1: "Socke 1",
    from_records: "eigene Paare",
    from_estimate: "Schätzung nach Maschen",
    scaled: "umgerechnet",
    of_pairs: "Paare",
    reserve: "Reserve",
    quarter: "(ein Viertel)",
    materials: "Material",
    materials_caption: "Material für eine Anleitung, beide Socken",
    materials_heads: [
        "Abschnitt",
        "Brauchte, g",
        "Brauchte, m",
        "Reserve, g",
        "Bereitlegen, g",
        "Bereitlegen, m",
        "Reserve beruht auf",
    ],
    together: "zusammen,",
    materials_note: "Mit der Reserve reicht das Garn für 95 von 100 solchen Paaren, nach der Streuung der eigenen; die Fäden zum Vernähen sind \
         dabei. Bei weniger als drei Paaren ist sie ein Viertel. Reserven zählen nicht zusammen: Was ein Abschnitt mehr braucht, braucht ein \
         anderer oft weniger. Wer anders strickt, braucht vielleicht mehr.",
    section_columns: "Paar,Name,Platz,Abschnitt,Socke,Garn,Machart,Maschen,Verbrauch_mg,u_mg,Zeit_s,UTC_s,UTC,verbessert,nachträglich,zweifelhaft",
    yarn_columns: "Paar,Name,Garn,Garnname,m_je_100_g,eingewogen_mg,verstrickt_mg,anderswo_mg,Rest_mg,u_mg,zweifelhaft",
    visit_columns: "Zeit_s,UTC_s,UTC,brutto_mg,u_mg,Schale",
    yes: "ja",
    no: "nein",
};
