//! Every text on the screen, in every language.

use crate::journal::Language;

/// Makes the table: one line a text, `Name "English" "German"`.
macro_rules! words {
    ($($name:ident $english:literal $german:literal)*) => {
        /// A text on the screen.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Word {
            $(#[doc = concat!("\"", $english, "\"")] $name,)*
        }

        impl Word {
            /// Every text, in the order of the table.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// The text in `language`.
            #[must_use]
            pub const fn text(self, language: Language) -> &'static str {
                match language {
                    Language::English => match self { $(Self::$name => $english,)* },
                    Language::German => match self { $(Self::$name => $german,)* },
                }
            }
        }
    };
}

words! {
    // the keys
    Zero "zero" "Null"
    Bowl "bowl" "Schale"
    Mark "MARK" "MARKE"
    WeighIn "weigh in" "einwiegen"
    Undo "undo" "zurück"
    Next "next" "weiter"
    Up "up" "auf"
    Down "down" "ab"
    Choose "choose" "wählen"
    Less "less" "weniger"
    More "more" "mehr"
    Back "back" "zurück"
    Ok "OK" "OK"
    Skip "skip" "auslassen"
    // the parts of a sock
    Cuff "Cuff" "Bündchen"
    Leg "Leg" "Schaft"
    Heel "Heel" "Ferse"
    Gusset "Gusset" "Zwickel"
    Foot "Foot" "Fuß"
    Toe "Toe" "Spitze"
    // the home page
    Used "used" "weg"
    Wait "wait" "warten"
    // lists: what can be done
    Everything "Everything" "Alles"
    Plan "Plan" "Plan"
    NewPair "New pair" "Neues Paar"
    Bowls "Bowls" "Schalen"
    Units "Units" "Einheit"
    Grams "g" "g"
    Ounces "oz" "oz"
    ThisSection "This section" "Dieser Teil"
    KnitThisNext "Knit this next" "Jetzt stricken"
    ChangeYarn "Yarn" "Garn"
    ForgottenMark "Forgotten mark" "Marke vergessen"
    SkipSection "Skip it" "Auslassen"
    WhichVisit "Which weighing?" "Welche Wägung?"
    WhichBowl "Which bowl?" "Welche Schale?"
    NoBowl "No bowl" "Keine Schale"
    // plans
    OneYarn "One yarn" "Ein Garn"
    ContrastHeelsToes "Heels, toes" "Fersen, Spitzen"
    ContrastCuffsHeelsToes "Cuffs, heels, toes" "Bund, Ferse, Spitze"
    OneYarnToeUp "One yarn, toe-up" "Ein Garn, ab Spitze"
    ContrastToeUp "Contrast, toe-up" "Kontrast, ab Spitze"
}
