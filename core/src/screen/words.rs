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
    // more keys
    Take "take" "nehmen"
    Accept "accept" "annehmen"
    // one section
    Section "Section" "Teil"
    HowWorked "Worked" "Gestrickt"
    Stitches "Stitches" "Maschen"
    AnotherSection "Add a section" "Teil anfügen"
    Plain "plain" "glatt"
    RibOneByOne "rib 1x1" "1x1 Rippen"
    RibTwoByTwo "rib 2x2" "2x2 Rippen"
    RibTwisted "rib twisted" "verschränkt"
    HeelFlap "flap, gusset" "Käppchen"
    HeelShortRow "short row" "verkürzt"
    HeelAfterthought "afterthought" "nachträglich"
    ToeWedge "wedge" "Bandspitze"
    ToeRounded "rounded" "rund"
    ToeAsymmetric "asymmetric" "asymmetrisch"
    OneAfterTheOther "One, then two" "Nacheinander"
    TwoAtATime "Two at a time" "Beide zugleich"
    OneSock "One sock" "Eine Socke"
    // answers
    WillItDo "Will it do?" "Reicht es?"
    PutLeftoverOn "Put a leftover on" "Rest auflegen"
    Halve "Halve a cake" "Knäuel teilen"
    // set-up
    Calibrate "calibrate" "kalibrieren"
    Yarns "Yarns" "Garne"
    Yarn "Yarn" "Garn"
    LengthOf100Grams "100 g are" "100 g sind"
    Metres "m" "m"
    Fibre "Fibre" "Faser"
    WoolPolyamide "wool 75 PA 25" "Wolle 75 PA 25"
    Wool "wool" "Wolle"
    Cotton "cotton" "Baumwolle"
    Silk "silk" "Seide"
    Synthetic "synthetic" "Kunstfaser"
    NotKnown "not known" "unbekannt"
    Language "Language" "Sprache"
    ThisLanguage "English" "Deutsch"
    Brightness "Brightness" "Helligkeit"
    SleepAfter "Sleep after" "Schläft nach"
    Minutes "min" "min"
    Sound "Sound" "Ton"
    On "on" "an"
    Off "off" "aus"
    HoldMarkToLeave "hold MARK: leave" "MARKE halten: zurück"
    // calibration
    Calibration "Calibration" "Kalibrieren"
    EmptyThePan "Empty the pan" "Schale leeren"
    KnownMass "Known mass" "Bekannte Masse"
    Coins "Coins" "Münzen"
    WhichCoin "Which coin?" "Welche Münze?"
    HowMany "How many?" "Wie viele?"
    PutOnPan "Put it on the pan" "Auf die Waage legen"
    Repeatability "Repeatability" "Wiederholung"
    Corners "Corners" "Ecken"
    PlaceInMiddle "Load in the middle" "Last in die Mitte"
    LiftAndPlaceAgain "Lift, place again" "Abheben, neu legen"
    PlaceInFront "Load at the front" "Last nach vorn"
    PlaceAtBack "Load at the back" "Last nach hinten"
    PlaceAtLeft "Load at the left" "Last nach links"
    PlaceAtRight "Load at the right" "Last nach rechts"
    FinishCalibration "Finish" "Fertig"
    AcceptCalibration "Accept?" "Annehmen?"
    PerHundredGrams "of 100 g" "von 100 g"
    Linearity "Straight to" "Gerade auf"
    NotTried "not tried" "nicht probiert"
    // diagnostics
    Diagnostics "Diagnostics" "Diagnose"
    SelfTest "Self-test" "Selbsttest"
    Good "good" "gut"
    Bad "look below" "siehe unten"
    Counts "Counts" "Zählwert"
    Noise "Noise" "Rauschen"
    MilligramsShort "mg" "mg"
    Drift "Drift" "Drift"
    MilligramsAMinute "mg/min" "mg/min"
    Supply "Supply" "Spannung"
    Millivolts "mV" "mV"
    JournalUsed "Journal used" "Speicher voll"
    Percent "%" "%"
    Damaged "Damaged" "Beschädigt"
    Restarts "Restarts" "Neustarts"
    CalibrationOf100Grams "Span of 100 g" "Spanne 100 g"
    Version "Version" "Version"
}
