//! What every output with a disc check must say.

/// What kind of number it is.
pub const SCREENING: &str =
    "a screening number: it knows nothing of cracks, castings, heat checks or fatigue";

/// What is at stake.
pub const BURST_KILLS: &str = "a burst flywheel kills: fit a scattershield";

/// Certified parts.
pub const CERTIFIED_PARTS: &str =
    "use certified parts where the rule book asks for them (SFI 1.1/1.2, 6.1)";

/// Crack testing.
pub const CRACK_TEST: &str = "crack-test before and after machining";

/// Cast iron.
pub const NEVER_LIGHTEN_CAST_IRON: &str = "never lighten a cast-iron wheel for racing";

/// Whose word stands.
pub const LAST_WORD: &str = "the rule book's, the scrutineer's and a licensed engineer's word \
                             stands over this program's";

/// What the stresses leave out.
pub const NOT_LOOKED_AT: &str = "left out: the ring gear's and the bolts' shrink and clamp, clutch \
                                 clamp and torque, heat, fillets, out-of-balance and crank whirl";

/// All of them, in the order they are shown.
pub const CAUTIONS: [&str; 7] = [
    BURST_KILLS,
    SCREENING,
    NOT_LOOKED_AT,
    CERTIFIED_PARTS,
    CRACK_TEST,
    NEVER_LIGHTEN_CAST_IRON,
    LAST_WORD,
];

/// Old limit on the rim speed of a cast-iron flywheel, m/s: 6,000 ft/min (*Machinery's
/// Handbook*, Kent; from memory). A mile a minute, 5,280 ft/min, is quoted for one-piece wheels
/// and less for built-up ones, and 5,000 ft/min in an old-engine forum.
pub const CAST_IRON_RIM_SPEED_M_S: f64 = 30.48;
