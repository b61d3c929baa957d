//! Every text on the screen, in every language: one line a text.
//!
//! In sentences `@` stands for a yarn letter, `&` for another, `#` for a mass with its unit, `~` for another without, `$` for a whole number and `^` for a
//! section.
//! `tests/tests/screens/fit.rs` draws every text in its place, in both languages.

use super::texts::Texts;
use crate::journal::Language;

const COUNT: usize = Word::ALL.len();

/// Makes the table of lines `Name "English" "German"`.
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
        }

        static ENGLISH: Texts<COUNT> = Texts::new(concat!($($english),*), &[$($english),*]);
        static GERMAN: Texts<COUNT> = Texts::new(concat!($($german),*), &[$($german),*]);
    };
}

impl Word {
    /// The text in `language`.
    #[must_use]
    pub fn text(self, language: Language) -> &'static str {
        let texts = match language {
            Language::English => &ENGLISH,
            Language::German => &GERMAN,
        };
        texts.nth(self as usize)
    }
}

words! {
    // the keys
    Zero "zero" "Null"
    Bowl "bowl" "Schale"
    Mark "MARK" "MARK"
    WeighIn "weigh in" "einwiegen"
    Next "next" "weiter"
    Down "down" "runter"
    Choose "choose" "wählen"
    Less "less" "kleiner"
    More "more" "größer"
    Back "back" "zurück"
    Ok "OK" "OK"
    Take "weigh" "wiegen"
    Calibrate "calibrate" "kalibrieren"
    Accept "save" "speichern"
    ToCheck "check" "prüfen"
    ToPlan "begin" "beginnen"
    Finish "finish" "beenden"
    OpenPair "reopen" "öffnen"
    OtherYarn "yarn" "Garn"

    // the parts of a sock
    Cuff "Cuff" "Bund"
    Leg "Leg" "Schaft"
    Heel "Heel" "Ferse"
    Gusset "Gusset" "Zwickel"
    Foot "Foot" "Fuß"
    Toe "Toe" "Spitze"

    // the home page
    Weigh "Weigh" "Wiegen"
    Used "used" "weg"
    Left "left" "übrig"
    NotSteady "wait: not steady yet" "warten: noch unruhig"
    MarkWaits "MARK waits: hands off" "MARK wartet: loslassen"
    Starting "starting, please wait" "startet, bitte warten"
    WeighInFirst "@ is new: weigh it in" "@ ist neu: einwiegen"
    PutItOn "put @ on to weigh it in" "@ auflegen, einwiegen"
    PerhapsEmpty "empty? then ZERO" "leer? dann ZERO"
    LastWeighed "@ last weighed #" "@ wog zuletzt #"
    NoSection "new pair: MARK" "neues Paar: MARK"
    OtherPairs "other pairs: MARK" "andere Paare: MARK"
    AllDone "all sections done" "alle Teile fertig"

    // the small signs: what to do
    SignDoubtful "check marks with ?" "Marken mit ? prüfen"
    SignJournal "memory nearly full" "Speicher fast voll"
    SignZero "empty the pan once" "Waage einmal leeren"
    SignSupply "battery nearly empty" "Batterie fast leer"
    NoSigns "no signs" "keine Zeichen"
    Signs "What signs mean" "Zeichen erklärt"

    // the used table and the plan
    UsedTitle "Used" "Summe"
    Nothing "nothing yet" "noch nichts"

    // something has happened
    WeighedIn "weighed in" "eingewogen"
    StartedHere "from here" "ab hier"
    Has "has" "hat"
    Unplanned "elsewhere" "anderswo"
    Amended "Corrected" "Korrigiert"
    AmendedWhy "Corrected: the empty pan gave the true zero." "Korrigiert: leere Waage zeigte die wahre Null."
    TakenBack "Taken back" "Rückgängig"
    WeightTakenBack "The last weight no longer counts." "Das letzte Gewicht zählt nicht mehr."
    OpenAgain "is open again" "ist wieder offen"
    LeftOut "skipped" "entfällt"
    BowlSubtracted "is now subtracted" "wird jetzt abgezogen"
    ZeroSet "Zero is set" "Null gesetzt"
    Restarted "Restarted" "Neu gestartet"
    Hung "The scale had stopped. Everything noted is safe." "Die Waage hing. Alles Notierte ist sicher."
    Broke "An error stopped the scale. Everything noted is safe. Code" "Interner Fehler. Alles Notierte ist sicher. Code"

    // refusals: why, and the way out
    NotDone "Not done" "Geht nicht"
    RefusedNotSteady "The pan did not settle. Hands off, then press again." "Die Waage kam nicht zur Ruhe. Loslassen, nochmal drücken."
    RefusedEmptyPan "The pan is empty. Put the yarn on, then MARK." "Die Waage ist leer. Garn auflegen, dann MARK."
    RefusedNoPlan "No pair yet. Hold NEXT and choose New pair." "Noch kein Paar. NEXT halten, neues Paar wählen."
    RefusedPlanDone "All sections are done. Hold NEXT for a new pair." "Alle Teile sind fertig. NEXT halten für ein neues Paar."
    RefusedNothingToUndo "There is no mark to take back." "Keine Marke zum Zurücknehmen."
    Restoring "Restoring" "Zurückspielen"
    LeaveCable "A backup is coming back. Leave the cable in." "Eine Sicherung kommt zurück. Kabel stecken lassen."
    RefusedNotNoted "It could not be saved. Please do it again." "Nicht gespeichert. Bitte noch einmal."
    RefusedJournalFull "The memory is full. Back it up on a computer, then erase it." "Der Speicher ist voll. Am Computer sichern, dann löschen."
    RefusedSupplyLow "The battery is too low to save. Charge or change it." "Batterie zu schwach zum Speichern. Laden oder wechseln."
    RefusedPairFull "The pairs hold no more marks. Finish one of them." "Mehr Marken fassen die Paare nicht. Eins beenden."
    RefusedPairFinished "This pair is finished and kept in short. Begin a new pair." "Dieses Paar ist fertig und nur kurz notiert. Neues Paar beginnen."
    RefusedFaulty "The scale cannot weigh now. See the first page." "Wiegen geht gerade nicht. Siehe erste Seite."

    // faults: what is wrong, and the way out
    OtherBoard "The scale needs a Pico, not this board." "Die Waage braucht einen Pico, nicht dieses Board."
    CannotWeigh "Cannot weigh" "Wiegt nicht"
    FaultSensorMissing "The sensor does not answer. Check its plug, then switch off and on." "Der Sensor antwortet nicht. Stecker prüfen, aus- und einschalten."
    FaultSensorStuck "The sensor is stuck. Check its wires, then switch off and on." "Der Sensor hängt. Drähte prüfen, aus- und einschalten."
    FaultSensorRate "The sensor is at a wrong speed, neither 10 nor 80. Check its strap." "Der Sensor misst weder 10- noch 80-mal je s. Brücke prüfen."
    FaultOverload "Too much on the pan. Take it off, or it bends the sensor." "Zu viel auf der Waage. Abnehmen, sonst verbiegt der Sensor."
    FaultUnderload "The pan is missing or stuck. Set it on so that it is free." "Der Teller fehlt oder klemmt. Frei aufsetzen."
    FaultReversed "The sensor counts backwards. Turn it over, or calibrate again." "Der Sensor zählt rückwärts. Umdrehen oder neu kalibrieren."
    FaultUncalibrated "Not calibrated yet. MARK begins: have a known weight or coins ready." "Noch nicht kalibriert. MARK beginnt: Gewicht oder Münzen bereitlegen."

    // questions
    WhyOtherSock "^ #? Sock $ took ~." "^ #? Socke $ brauchte ~."
    WhyEarlierPairs "^ #? Earlier pairs ~." "^ #? Frühere Paare ~."
    WhyEstimate "^ #? By stitches ~." "^ #? Nach Maschen ~."
    WhyUsual "^ #? Usual is ~." "^ #? Üblich sind ~."
    WhyHeavier "@ is # too heavy. Why?" "@ ist # zu schwer. Warum?"
    WhyUnchanged "@ weighs the same as last time." "@ wiegt wie beim letzten Mal."
    WhyUsedUp "The pan is empty. Is @ used up?" "Die Waage ist leer. Ist @ aufgebraucht?"
    WhyOtherYarn "@ is next, but this looks like &." "@ ist dran, das sieht nach & aus."
    WhyTwoCakes "Are there two cakes on the pan?" "Liegen zwei Knäuel auf der Waage?"
    WhyTakeBackMore "$ marks are taken back. One more?" "$ Marken sind zurück. Noch eine?"
    ChoiceSection "^, @" "^, @"
    ChoiceBoth "^ ~ +" "^ ~ +"
    ChoiceBowl "@, bowl $" "@, Schale $"
    ChoiceNoBowl "@, no bowl" "@, ohne Schale"
    ChoiceWeighIn "weigh in as @" "als @ einwiegen"
    ChoiceNothingUsed "@: nothing used" "@: nichts verstrickt"
    ChoiceStart "@, elsewhere" "@, anderswo"
    ChoiceRippedBack "@, ripped back" "@, geribbelt"
    ChoiceTakeBack "^ back" "^ zurück"
    ChoiceTakeBackWeight "take back a weight" "ein Gewicht zurück"
    ChoiceNotNow "not now" "jetzt nicht"

    // lists: what can be done
    Everything "Menu" "Menü"
    Plan "Plan" "Plan"
    NewPair "New pair" "Neues Paar"
    PairsOnNeedles "Pairs" "Paare"
    PairOf "Pair" "Paar"
    FinishOne "8 pairs: finish one" "Eins von 8 beenden"
    Finished "finished" "fertig"
    Days "days" "Tage"
    Day "day" "Tag"
    Bowls "Bowls" "Schalen"
    Yarns "Yarns" "Garne"
    Units "Units" "Einheit"
    Grams "grams" "Gramm"
    Ounces "ounces" "Unzen"
    TakeMarkBack "take the mark back" "Marke zurücknehmen"
    MoveMark "mark of another section" "Marke eines anderen Teils"
    MoveTo "It belongs to:" "Sie gehört zu:"
    TakesBack "Take the mark back?" "Marke zurücknehmen"
    Moves "Move the mark?" "Marke verschieben?"
    NextMarkTakes "next mark" "nächste Marke"
    OtherSockTook "sock $ ~" "Socke $ ~"
    WhichVisit "When was it?" "Wann war das?"
    MinutesAgo "min ago" "min her"
    HoursAgo "h ago" "h her"
    DaysAgo "days ago" "Tage her"
    WhichBowl "Which bowl?" "Welche Schale?"
    BowlOf "Bowl" "Schale"
    NewBowl "New bowl" "Neue Schale"
    NoBowl "No bowl" "Keine Schale"

    // plans
    OneYarn "One yarn" "Ein Garn"
    ContrastHeelsToes "Heels, toes" "Ferse, Spitze"
    ContrastCuffsHeelsToes "Cuffs, heels, toes" "Bund, Ferse, Spitze"
    OneYarnToeUp "Toe-up: one yarn" "Ab Spitze: ein Garn"
    ContrastToeUp "Toe-up: contrast" "Ab Spitze: Kontrast"
    OneAfterTheOther "One, then the other" "Nacheinander"
    TwoAtATime "Two at a time" "Beide zugleich"
    OneSock "One sock" "Eine Socke"

    // one section
    ThisSection "This section" "Dieser Teil"
    KnitThisNext "Knit this next" "Als Nächstes stricken"
    ChangeYarn "Yarn" "Garn"
    ForgottenMark "Forgotten mark" "Vergessene Marke"
    SkipSection "Skip it" "Auslassen"
    AnotherSection "Add a section" "Teil anfügen"
    Section "Section" "Teil"
    HowWorked "Type" "Art"
    Stitches "Stitches" "Maschen"
    Plain "plain" "glatt"
    RibOneByOne "1×1 rib" "1 re, 1 li"
    RibTwoByTwo "2×2 rib" "2 re, 2 li"
    RibTwisted "twisted rib" "verschränkt"
    HeelFlap "flap + gusset" "Käppchen"
    HeelShortRow "short rows" "verkürzte Reihen"
    HeelAfterthought "afterthought" "nachträglich"
    ToeWedge "wedge" "Bandspitze"
    ToeRounded "rounded" "rund"
    ToeAsymmetric "asymmetric" "asymmetrisch"

    // answers
    Enough "enough" "reicht"
    Close "close" "knapp"
    Short "short" "fehlt"
    Needs "needs" "braucht"
    OneSockNeeds "1 sock:" "1 Socke:"
    BothSocksNeed "2 socks:" "2 Socken:"
    OtherYarnFor "take another yarn for" "anderes Garn für"
    SourceNothing "nothing left to knit" "nichts mehr zu stricken"
    SourceFirstSock "as sock 1 took" "so viel wie Socke 1"
    SourceFirstSockScaled "as sock 1, adjusted" "wie Socke 1, skaliert"
    SourceRecords "as earlier pairs took" "wie frühere Paare"
    SourceRecordsScaled "as earlier pairs, adjusted" "wie Paare, skaliert"
    SourceEstimate "by stitches and gauge" "nach Maschenzahl"
    Reserve "reserve" "Reserve"
    ByFirstSock "as sock 1" "Socke 1"
    ByRecords "as before" "früher"
    ByRecordsScaled "adjusted" "skaliert"
    ByEstimate "estimated" "geschätzt"
    Pairs "pairs" "Paare"
    NothingKnown "not known" "unbekannt"
    NothingKnownWhy "Knit it once, or enter its stitches." "Einmal stricken oder Maschen eingeben."
    WillItDo "Will it do?" "Wofür reicht es?"
    PutLeftoverOn "Put a leftover on the pan" "Rest auf die Waage legen"
    Halve "Halve a cake" "Knäuel halbieren"
    HalveBegin "Put the whole cake on, then MARK." "Ganzes Knäuel auflegen, dann MARK."
    HalveToGo "Wind off" "Abwickeln"
    HalveSlowly "Slowly" "Langsam"
    HalveEqual "Stop: half" "Stopp: Hälfte"
    HalveTooFar "Wind back" "Zurückwickeln"
    HalveStop "stop at #" "Stopp bei #"

    // the finished pair
    PairCheck "Pair check" "Paar prüfen"
    PutPairOn "Put the pair on the pan" "Paar auf die Waage legen"
    GapNone "agrees" "stimmt"
    GapNoneWhy "The pair weighs what its sections took." "Das Paar wiegt, was seine Teile brauchten."
    GapEnds "ends" "Fäden"
    GapEndsWhy "Lighter by the ends that were cut off." "Leichter um die abgeschnittenen Fäden."
    GapDamp "damp?" "feucht?"
    GapDampWhy "A little heavier: the pair or the air is damp." "Etwas schwerer: das Paar oder die Luft ist feucht."
    GapMissed "too heavy" "zu schwer"
    GapMissedWhy "Heavier by a section: was a mark forgotten?" "Schwerer um einen Teil: Marke vergessen?"
    GapTooMuch "too light" "zu leicht"
    GapTooMuchWhy "Lighter: a mark too many, or knitting ripped back." "Leichter: Marke zu viel oder Garn aufgeribbelt."
    DryYet "Dry yet?" "Schon trocken?"
    DryAgain "again" "nochmal"
    DryAgainWhy "Weigh it again in an hour or two." "In ein, zwei Stunden nochmal wiegen."
    Drying "drying" "trocknet"
    DryingWhy "It is still getting lighter. Weigh again later." "Es wird noch leichter. Später nochmal wiegen."
    DryStalled "still damp" "klamm"
    DryStalledWhy "It gets no lighter, but it is not dry yet." "Wird nicht leichter, ist aber noch nicht trocken."
    Dry "dry" "trocken"
    DryWhy "Back at the weight it had before washing." "Wieder so schwer wie vor dem Waschen."
    DryUnknownWhy "Its weight before washing is not known." "Gewicht vor dem Waschen unbekannt."
    DryStill "no lighter for $ h" "seit $ h nicht leichter"
    Estimate "Estimate" "Schätzung"
    ControlSkein "Control skein" "Kontrollstrang"

    // yarns and settings
    Yarn "Yarn" "Garn"
    LengthOf100Grams "Length 100 g" "Länge 100 g"
    Metres "m" "m"
    Fibre "Fibre" "Faser"
    WoolPolyamide "sock wool 75/25" "Sockenwolle 75/25"
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
    HoldMarkToLeave "hold MARK to cancel" "MARK halten: abbrechen"

    // calibration
    Calibration "Calibration" "Kalibrieren"
    EmptyThePan "Empty the pan" "Waage leeren"
    KnownMass "Known weight" "Bekanntes Gewicht"
    Coins "Coins" "Münzen"
    WhichCoin "Which coin?" "Welche Münze?"
    HowMany "How many?" "Wie viele?"
    PutOnPan "Put it on the pan" "Auf die Waage legen"
    WithCup "With any cup" "Mit einer Tasse"
    CupOnPan "Put on any cup of 150 g or more" "Eine Tasse ab 150 g auflegen"
    MassWithCup "Add the weight" "Gewicht dazulegen"
    Repeatability "Scatter" "Streuung"
    Corners "Corners" "Ecken"
    PlaceInMiddle "Weight in the middle" "Gewicht in die Mitte"
    LiftAndPlaceAgain "Lift it, put it back" "Abheben, neu auflegen"
    PlaceInFront "Weight at the front" "Gewicht nach vorn"
    PlaceAtBack "Weight at the back" "Gewicht nach hinten"
    PlaceAtLeft "Weight at the left" "Gewicht nach links"
    PlaceAtRight "Weight at the right" "Gewicht nach rechts"
    FinishCalibration "Finish" "Fertig"
    AcceptCalibration "Save it?" "Speichern?"
    Of300Grams "At 300 g" "Bei 300 g"
    Linearity "Bend" "Krümmung"
    NotTried "not tested" "nicht geprüft"
    RefusedPressed "The pan was pressed. Empty it, MARK, put the weight on gently." "Zu fest gedrückt. Waage leeren, MARK, sanft neu auflegen."
    RefusedTooFewPoints "One weight is not enough. Weigh another known weight." "Ein Gewicht genügt nicht. Noch ein bekanntes wiegen."
    RefusedNoZero "The empty pan was not weighed. Begin with it." "Die leere Waage fehlt. Mit ihr beginnen."
    RefusedTooLight "The weight is too light to calibrate with. Take a heavier one." "Das Gewicht ist zu leicht. Ein schwereres nehmen."
    RefusedNoResponse "The sensor hardly feels the weight. Check its wires." "Der Sensor spürt das Gewicht kaum. Drähte prüfen."
    RefusedNotStraight "The weights do not agree. Is one wrong? Try again." "Die Gewichte passen nicht zusammen. Ist eines falsch?"
    RefusedNonsense "The result makes no sense. The old calibration stays." "Das Ergebnis kann nicht stimmen. Die alte Kalibrierung bleibt."

    // the parts it was built with
    Parts "Parts" "Bauteile"
    FrameTouches "Does the frame touch all four edges? If not: next." "Berührt der Rahmen alle vier Ränder? Sonst: weiter."
    SuppliedFrom "Supplied from" "Versorgung"
    SupplyAlkaline "3 alkaline cells" "3 Alkali-Zellen"
    SupplyNickel "3 NiMH cells" "3 NiMH-Zellen"
    SupplyLithium "lithium cell" "Lithium-Zelle"
    SupplyUsb "USB only" "nur USB"
    LoadCell "Load cell" "Wägezelle"
    CellCarries "carries" "trägt"

    // the check on the bench
    BenchCheck "Bench check" "Geräteprüfung"
    MeterReads "The meter reads" "Das Messgerät zeigt"
    BuzzerHeard "Did you hear it?" "War es zu hören?"
    SensorFitted "Silent. Is it fitted?" "Stumm. Eingebaut?"
    PressEachKey "Press each 3 times" "Je 3-mal drücken"
    Measuring "Measuring: hands off" "Misst: Hände weg"
    Seconds "s" "s"
    Yes "yes" "ja"
    No "no" "nein"
    OnceMore "again" "nochmal"
    Passed "✓" "✓"
    Failed "×" "×"
    NoLimit "–" "–"
    Rate "Rate" "Takt"
    EachSecond "/s" "/s"
    EmptyPanCounts "Empty pan" "Leere Waage"
    Span "Counts" "Werte"
    EachGram "/g" "/g"
    KeyBounce "Keys" "Tasten"
    PanelEdges "Display edges" "Bildrand"
    HumiditySensor "Humidity sensor" "Feuchtesensor"
    Buzzer "Buzzer" "Summer"
    FlashNumber "Flash number" "Flash-Nummer"
    LastReset "Last reset" "Letzter Neustart"
    FirstNumber "First number" "Erste Zahl"
    Milliseconds "ms" "ms"

    // the battery
    Battery "Battery" "Batterie"
    LastsAbout "Lasts about" "Reicht etwa"
    InUseADay "In use a day" "Am Tag benutzt"
    Hours "h" "h"

    // diagnostics
    Drive "Drive" "Laufwerk"
    DriveAsOfNow "It shows what is noted by now. For later news: menu, Drive." "Es zeigt, was bis jetzt notiert ist. Neues: Menü, Laufwerk."
    DriveSoon "soon" "gleich"
    DriveNews "up to date" "aktuell"
    DriveOlder "old state" "alter Stand"
    Diagnostics "Diagnostics" "Diagnose"
    SelfTest "Self-test" "Selbsttest"
    Good "good" "gut"
    Bad "look below" "siehe unten"
    Poor "high" "hoch"
    Counts "Counts" "Zählwert"
    ASecond "Values a second" "Werte je Sekunde"
    Noise "Noise" "Rauschen"
    MilligramsShort "mg" "mg"
    Drift "Drift" "Drift"
    MilligramsAMinute "mg/min" "mg/min"
    Supply "Voltage" "Spannung"
    Millivolts "mV" "mV"
    JournalUsed "Memory used" "Speicher voll"
    Percent "%" "%"
    Damaged "Damaged" "Beschädigt"
    Hangs "Restarts: hang" "Neustarts: Hänger"
    Errors "Restarts: error" "Neustarts: Fehler"
    CalibrationOf100Grams "At 100 g" "Bei 100 g"
    Version "Version" "Version"
}
