//! What a term of a working is.

use crate::plain::tree::Tree;
use crate::plain::writing::{ToPlain, text_of};
use serde::de::{Deserialize, Deserializer, Error, Unexpected};
use serde::{Serialize, Serializer};

/// What a term is, by name.
///
/// No enum: the first half of the module then holds the names that it tells, and
/// not those of every working there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TermName(&'static str);

macro_rules! names {
    ($first:ident $of_first:literal; $($name:ident $of:literal;)*) => {
        #[expect(non_upper_case_globals, reason = "written as the variants they stand for")]
        #[expect(missing_docs, reason = "the name says it")]
        impl TermName {
            pub const $first: Self = Self($of_first);
            $(pub const $name: Self = Self($of);)*

            const ALL: &'static [Self] = &[Self::$first, $(Self::$name),*];
        }

        #[cfg(target_arch = "wasm32")]
        #[wasm_bindgen::prelude::wasm_bindgen(typescript_custom_section)]
        const TYPE: &'static str = concat!(
            "\n/**\n * What a term is.\n */\nexport type TermName = \"", $of_first, "\"",
            $(" | \"", $of, "\"",)* ";\n"
        );
    };
}

names! {
    ReadAperture "readAperture";
    ReadIndex "readIndex";
    ReadRate "readRate";
    ReadAngle "readAngle";
    ReadTime "readTime";
    ReadThrough "readThrough";
    ShotAperture "shotAperture";
    ShotIndex "shotIndex";
    ShotRate "shotRate";
    ShotAngle "shotAngle";
    ShotTime "shotTime";
    Settings "settings";
    Density "density";
    Loss "loss";
    Need "need";
    LeftOver "leftOver";
    ApertureToSet "apertureToSet";
    ReadingUnsure "readingUnsure";
    LossUnsure "lossUnsure";
    Unsure "unsure";
    FocalLength "focalLength";
    FNumber "fNumber";
    Pupil "pupil";
    PupilBehind "pupilBehind";
    Distance "distance";
    FromPupil "fromPupil";
    SensorWidth "sensorWidth";
    SensorHeight "sensorHeight";
    Squeeze "squeeze";
    ChiefAcross "chiefAcross";
    ChiefUp "chiefUp";
    OpeningDiameter "openingDiameter";
    OpeningWidth "openingWidth";
    OpeningHeight "openingHeight";
    Deep "deep";
    Bends "bends";
    Growth "growth";
    Front "front";
    Room "room";
    RightOfAxis "rightOfAxis";
    AboveAxis "aboveAxis";
    LineInFrame "lineInFrame";
    LineHeight "lineHeight";
    Rotation "rotation";
    Ramp "ramp";
    Blend "blend";
    SlidePerDegree "slidePerDegree";
    At "at";
    FromLine "fromLine";
    HalfPupil "halfPupil";
    DenseShare "denseShare";
    TakesThere "takesThere";
    SunHeight "sunHeight";
    SunTowards "sunTowards";
    AimHeight "aimHeight";
    AimTowards "aimTowards";
    Roll "roll";
    CosineFromSun "cosineFromSun";
    FromSun "fromSun";
    MostPolarized "mostPolarized";
    Polarized "polarized";
    SunAboutAxis "sunAboutAxis";
    Turn "turn";
    Darkening "darkening";
    QuarterTurn "quarterTurn";
    HeightShare "heightShare";
    Coefficient "coefficient";
    LogLux "logLux";
    Light "light";
    LightOf "lightOf";
    SkyAlone "skyAlone";
    SunAlone "sunAlone";
    FallsOn "fallsOn";
    ExposureValue "exposureValue";
    After "after";
    MeanAfter "meanAfter";
    MeanLight "meanLight";
    Lever "lever";
    PerMinute "perMinute";
    PerHour "perHour";
    OverSky "overSky";
    AtSwap "atSwap";
    Parts "parts";
    Circle "circle";
    FocusedOn "focusedOn";
    FocusFromLens "focusFromLens";
    ImageBehind "imageBehind";
    BlurReach "blurReach";
    Hyperfocal "hyperfocal";
    Near "near";
    Far "far";
    Magnification "magnification";
    Wavelength "wavelength";
    Diffraction "diffraction";
    PairAngle "pairAngle";
    PairLoss "pairLoss";
    Extinction "extinction";
    PassedShare "passedShare";
    PairTakes "pairTakes";
    RefractiveIndex "refractiveIndex";
    SeenAt "seenAt";
    InsideCosine "insideCosine";
    ReflectedAcross "reflectedAcross";
    ReflectedAlong "reflectedAlong";
    LeftShare "leftShare";
    WeakerBy "weakerBy";
    BrewsterAngle "brewsterAngle";
    LampImage "lampImage";
    Tilt "tilt";
    LampAngle "lampAngle";
    TurnedBy "turnedBy";
    Reflects "reflects";
    GhostPlace "ghostPlace";
    MovedByTilt "movedByTilt";
    PictureEdge "pictureEdge";
    TiltToClear "tiltToClear";
    TowardsFlag "towardsFlag";
    StraightAhead "straightAhead";
    SunRadius "sunRadius";
    LightSlope "lightSlope";
    LampOut "lampOut";
    LampAhead "lampAhead";
    GlassAhead "glassAhead";
    HingeOut "hingeOut";
    HingeAhead "hingeAhead";
    Lean "lean";
    ShortestFlag "shortestFlag";
    FieldSlope "fieldSlope";
    LongestFlag "longestFlag";
    PartPasses "partPasses";
    MeanPasses "meanPasses";
    ByFiveParts "byFiveParts";
    FinerParts "finerParts";
    AlongTurned "alongTurned";
    AcrossTurned "acrossTurned";
    Factor "factor";
    Passes "passes";
    TimeThrough "timeThrough";
    Stop "stop";
    Time "time";
    Rate "rate";
    ShutterAngle "shutterAngle";
    Index "index";
    IncidentConstant "incidentConstant";
    ReflectedConstant "reflectedConstant";
    Luminance "luminance";
    ExtendedBy "extendedBy";
    PupilRatio "pupilRatio";
    ExtenderTakes "extenderTakes";
    NearTakes "nearTakes";
    WorkingStop "workingStop";
    Power "power";
    NearestSetting "nearestSetting";
    LightKelvin "lightKelvin";
    Shift "shift";
    ShiftTogether "shiftTogether";
    SeenMired "seenMired";
    SeenKelvin "seenKelvin";
    BalanceKelvin "balanceKelvin";
    Cast "cast";
    ReadBare "readBare";
    ReadBrightest "readBrightest";
    ReadDarkest "readDarkest";
    TurnedStops "turnedStops";
    SunOverDistance "sunOverDistance";
    SunImage "sunImage";
    TimesSun "timesSun";
    NearCard "nearCard";
    NearEdge "nearEdge";
    Latitude "latitude";
    Longitude "longitude";
    DaysSince "daysSince";
    Centuries "centuries";
    RightAscension "rightAscension";
    Declination "declination";
    Parallax "parallax";
    Nutation "nutation";
    SiderealTime "siderealTime";
    HourAngle "hourAngle";
    FlatLatitude "flatLatitude";
    TowardsMeridian "towardsMeridian";
    TowardsWest "towardsWest";
    AlongAxis "alongAxis";
    TowardsNorth "towardsNorth";
    TowardsZenith "towardsZenith";
    Refraction "refraction";
    SeenHeight "seenHeight";
    NoonAfter "noonAfter";
    NoonHeight "noonHeight";
    RiseDepth "riseDepth";
    HalfDay "halfDay";
    DayDrift "dayDrift";
    RiseAfter "riseAfter";
    SetAfter "setAfter";
    HalfDayCosine "halfDayCosine";
    Mass "mass";
    Width "width";
    Height "height";
    Thickness "thickness";
    Heft "heft";
    Pivot "pivot";
    CounterArm "counterArm";
    AllMass "allMass";
    Moment "moment";
    Counterweight "counterweight";
    VisibleTaken "visibleTaken";
    InfraredTaken "infraredTaken";
    InfraredExcess "infraredExcess";
    ExcessDensity "excessDensity";
    CutFrom "cutFrom";
    ToCut "toCut";
    BrightRead "brightRead";
    DarkRead "darkRead";
    Apart "apart";
    BroughtCloser "broughtCloser";
    LeftApart "leftApart";
    Stolen "stolen";
    StartStop "startStop";
    EndStop "endStop";
    StartRate "startRate";
    EndRate "endRate";
    StartAngle "startAngle";
    EndAngle "endAngle";
    StartTime "startTime";
    ShareThrough "shareThrough";
    RateThen "rateThen";
    AngleThen "angleThen";
    StopThen "stopThen";
    TimeThen "timeThen";
    BrighterThen "brighterThen";
    HeldBy "heldBy";
    Mains "mains";
    PulsesAFrame "pulsesAFrame";
    Beat "beat";
    PulsesCaught "pulsesCaught";
    Ripple "ripple";
    WholePulses "wholePulses";
    SafeAngle "safeAngle";
    AngleLoss "angleLoss";
    Readout "readout";
    Bands "bands";
    GlassShift "glassShift";
    FocusDepth "focusDepth";
    BlurIfLeft "blurIfLeft";
    InfinityReads "infinityReads";
    InFront "inFront";
    ReadsThrough "readsThrough";
    PupilNearest "pupilNearest";
    PupilFarthest "pupilFarthest";
    ImageCircle "imageCircle";
    CornerShift "cornerShift";
    HalfRing "halfRing";
    CutOfPupil "cutOfPupil";
    CutOfRing "cutOfRing";
    HowMany "howMany";
    Cost "cost";
    PiecesTogether "piecesTogether";
    CostTogether "costTogether";
    LeastPossible "leastPossible";
    NotRuledOut "notRuledOut";
    SearchSteps "searchSteps";
    Moves "moves";
    MovesTogether "movesTogether";
    MinutesAMove "minutesAMove";
    MinutesTogether "minutesTogether";
    LeftAlone "leftAlone";
    CostsBody "costsBody";
    RingFrom "ringFrom";
    RingTo "ringTo";
    LightAtRim "lightAtRim";
    LightWidens "lightWidens";
    DeepTogether "deepTogether";
    LeastRoom "leastRoom";
    MovesNoon "movesNoon";
    FarCard "farCard";
    FarEdge "farEdge";
    CardsUnsure "cardsUnsure";
    MarkUnsure "markUnsure";
    EdgeUnsure "edgeUnsure";
    OpeningUnsure "openingUnsure";
    LensUnsure "lensUnsure";
    SkyUnsure "skyUnsure";
    HeightUnsure "heightUnsure";
    ClockUnsure "clockUnsure";
    PlaceUnsure "placeUnsure";
    PupilUnsure "pupilUnsure";
    BendsUnsure "bendsUnsure";
    GrowthUnsure "growthUnsure";
    NearCardUnsure "nearCardUnsure";
    FarCardUnsure "farCardUnsure";
    OpeningPlaceUnsure "openingPlaceUnsure";
    ModelUnsure "modelUnsure";
    MiddleOff "middleOff";
    FarthestOff "farthestOff";
}

impl Serialize for TermName {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.0)
    }
}

impl<'de> Deserialize<'de> for TermName {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let name = String::deserialize(from)?;
        (Self::ALL.iter().copied().find(|known| known.0 == name))
            .ok_or_else(|| D::Error::invalid_value(Unexpected::Str(&name), &"what a term is"))
    }
}

impl ToPlain for TermName {
    fn to_plain(&self) -> Tree {
        text_of(self.0)
    }
}
