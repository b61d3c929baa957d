//! The knitter's manual uses the words of the screens, explains every sign, question and fault, and is the same in both languages.

use std::fs;
use std::path::Path;

use yarn_scale_core::journal::Language;
use yarn_scale_core::screen::Word;

/// Everything that the manual quotes from the screen.
fn quoted(manual: &str) -> Vec<&str> {
    let quotes = manual.split("<q>").skip(1);
    quotes
        .map(|rest| rest.split("</q>").next().expect("a quote ends"))
        .collect()
}

fn manual(language: Language) -> String {
    let name = match language {
        Language::English => "hardware-notes/manual.en.html",
        Language::German => "hardware-notes/manual.de.html",
    };
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name);
    fs::read_to_string(path).expect("the manual is there")
}

/// Whether `text` is what the screen makes of `form`: see the head of `words.rs` for its signs.
fn is_of(form: &str, text: &str) -> bool {
    let Some(sign) = form.chars().next() else {
        return text.is_empty();
    };
    let rest = &form[sign.len_utf8()..];
    let is_part: fn(&str) -> bool = match sign {
        '@' | '&' => |part| part.len() == 1 && part.chars().all(|letter| letter.is_ascii_uppercase()),
        '#' => |part| part.strip_suffix(" g").is_some_and(is_number),
        '~' => is_number,
        '$' => |part| !part.is_empty() && part.chars().all(|digit| digit.is_ascii_digit()),
        '^' => |part| !part.is_empty() && part.chars().all(char::is_alphabetic),
        _ => return text.strip_prefix(sign).is_some_and(|behind| is_of(rest, behind)),
    };
    let mut ends = text.char_indices().map(|(at, _)| at).skip(1).chain([text.len()]);
    ends.any(|end| is_part(&text[..end]) && is_of(rest, &text[end..]))
}

fn is_number(text: &str) -> bool {
    let mut parts = text.split(['.', ',']);
    let digits = |part: Option<&str>| {
        part.is_some_and(|part| !part.is_empty() && part.chars().all(|digit| digit.is_ascii_digit()))
    };
    digits(parts.next()) && digits(parts.next()) && parts.next().is_none()
}

const LANGUAGES: [Language; 2] = [Language::English, Language::German];

#[test]
fn what_the_manual_quotes_stands_on_the_screen() {
    for language in LANGUAGES {
        for quote in quoted(&manual(language)) {
            let is_word = Word::ALL.iter().any(|word| is_of(word.text(language), quote));
            let is_letter = quote == "A" || quote == "B";
            assert!(
                is_word || is_letter || is_number(quote),
                "no screen says \"{quote}\" ({language:?})"
            );
        }
    }
}

#[test]
fn every_sign_question_and_fault_is_explained() {
    for language in LANGUAGES {
        let manual = manual(language);
        let quotes = quoted(&manual);
        for word in Word::ALL {
            let name = format!("{word:?}");
            if ["Sign", "Why", "Fault"].iter().any(|kind| {
                name.strip_prefix(kind)
                    .is_some_and(|rest| rest.starts_with(char::is_uppercase))
            }) {
                assert!(
                    quotes.iter().any(|quote| is_of(word.text(language), quote)),
                    "the manual does not explain \"{}\"",
                    word.text(language)
                );
            }
        }
    }
}

#[test]
fn both_languages_have_the_same_parts() {
    let [english, german] = LANGUAGES.map(manual);
    for tag in ["<h2", "<li>", "<tr>", "<td>", "<q>", "<kbd>"] {
        let [english, german] = [&english, &german].map(|manual| manual.matches(tag).count());
        assert_eq!(english, german, "{tag}");
    }
    assert_eq!(english.matches("<li>").count(), 10, "the first pair in ten steps");
}

#[test]
fn a_form_takes_what_the_screen_makes_of_it_and_nothing_else() {
    assert!(is_of("@ is # too heavy. Why?", "B is 4.5 g too heavy. Why?"));
    assert!(!is_of("@ is # too heavy. Why?", "B is heavy. Why?"));
    assert!(!is_of("@ is # too heavy. Why?", "B is 4.5 g too heavy."));
    assert!(is_of("^ #? Sock $ took ~.", "Heel 33.8 g? Sock 1 took 4.1."));
}
