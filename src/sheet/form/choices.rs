//! Where one thing can be said in several ways, and which way a sheet takes.

use super::model::{Choice, Way};
use toml::de::DeTable;

/// What is declared of a choice.
pub(super) struct Ways {
    label: &'static str,
    ways: &'static [WayOf],
}

/// What is declared of one way.
struct WayOf {
    label: &'static str,
    /// Keys that belong to this way alone: one of them, and the sheet takes this way.
    keys: &'static [&'static str],
    /// Keys without which it says nothing.
    needs: &'static [&'static str],
}

const fn way(
    label: &'static str,
    keys: &'static [&'static str],
    needs: &'static [&'static str],
) -> WayOf {
    WayOf { label, keys, needs }
}

const CLUTCH: &[Ways] = &[
    Ways {
        label: "torque the clutch carries while slipping",
        ways: &[
            way("by its torque", &["capacity"], &["capacity"]),
            way(
                "by clamp load and faces",
                &["clamp", "faces", "friction", "outer", "inner", "wear"],
                &["clamp", "friction", "outer", "inner"],
            ),
        ],
    },
    Ways {
        label: "how the clutch is let in",
        ways: &[
            way("evenly, in a time", &["release_time"], &["release_time"]),
            way("by a table of points", &["release"], &["release"]),
        ],
    },
];

const TYRE: &[Ways] = &[Ways {
    label: "size of the driven tyres",
    ways: &[
        way("by the rolling radius", &["radius"], &["radius"]),
        way(
            "by the way rolled in one turn",
            &["circumference"],
            &["circumference"],
        ),
        way(
            "by the size on the sidewall",
            &["size", "deflection"],
            &["size"],
        ),
    ],
}];

const PART: &[Ways] = &[Ways {
    label: "how its inertia is known",
    ways: &[
        way(
            "from its metal, ring by ring",
            &["sections", "holes", "extras", "weighed", "inertia_scale"],
            &["sections", "material"],
        ),
        way("from a maker's data", &["inertia"], &["inertia"]),
        way(
            "from mass and radius of gyration",
            &["mass", "radius_of_gyration"],
            &["mass", "radius_of_gyration"],
        ),
        way("from a swing test", &["swing"], &["swing"]),
        way("pistons and rods", &["reciprocating"], &["reciprocating"]),
    ],
}];

const SECTION: &[Ways] = &[Ways {
    label: "thickness",
    ways: &[
        way("flat", &["thickness"], &["thickness"]),
        way(
            "tapered",
            &["thickness_inner", "thickness_outer"],
            &["thickness_inner", "thickness_outer"],
        ),
    ],
}];

const EXTRA: &[Ways] = &[Ways {
    label: "where it sits",
    ways: &[
        way(
            "in a ring",
            &["radius_of_gyration"],
            &["radius_of_gyration"],
        ),
        way(
            "several on a circle",
            &["count", "circle"],
            &["count", "circle"],
        ),
    ],
}];

const DRIVER: &[Ways] = &[
    Ways {
        label: "how the throttle opens",
        ways: &[
            way("evenly, in a time", &["throttle_time"], &[]),
            way("by a table of points", &["throttle"], &["throttle"]),
        ],
    },
    Ways {
        label: "how steadily the launch speed is held",
        ways: &[
            way("by a spread", &["launch_sd"], &[]),
            way("by practice launches", &["practice"], &["practice"]),
        ],
    },
];

const WEATHER: &[Ways] = &[Ways {
    label: "how the air pressure is known",
    ways: &[
        way("from a barometer", &["pressure"], &[]),
        way(
            "from the height above the sea",
            &["altitude"],
            &["altitude"],
        ),
    ],
}];

/// The choices of a table.
pub(super) fn of(table: &str) -> &'static [Ways] {
    match table {
        "clutch" => CLUTCH,
        "tyre" => TYRE,
        "crank_side" | "flywheel" => PART,
        "crank_side.sections" | "flywheel.sections" => SECTION,
        "crank_side.extras" | "flywheel.extras" => EXTRA,
        "driver" => DRIVER,
        "track" | "engine.dyno_weather" => WEATHER,
        _ => &[],
    }
}

/// What a choice says of one of its keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// No choice has to do with it.
    Free,
    /// Its way is taken, and says nothing without it.
    Needed,
    /// Its way is taken or could be.
    Possible,
    /// Another way is taken.
    Aside,
}

/// How a key stands in the choices of its table; `table` is what the sheet has.
pub(super) fn standing(choices: &[Ways], table: Option<&DeTable<'_>>, key: &str) -> Standing {
    let mut standing = Standing::Free;
    for choice in choices {
        let used = |way: &WayOf| way.is_used(table);
        let any = choice.ways.iter().any(used);
        for way in choice.ways {
            let (own, needs) = (way.keys.contains(&key), way.needs.contains(&key));
            if used(way) && needs {
                return Standing::Needed;
            }
            if own && (used(way) || !any) {
                standing = Standing::Possible;
            } else if own {
                standing = Standing::Aside;
            }
        }
    }
    standing
}

impl WayOf {
    fn is_used(&self, table: Option<&DeTable<'_>>) -> bool {
        table.is_some_and(|table| self.keys.iter().any(|key| table.contains_key(*key)))
    }
}

impl Ways {
    /// The choice as a sheet has it.
    pub(super) fn shown(&self, table: Option<&DeTable<'_>>) -> Choice {
        let ways = self.ways.iter().map(|way| Way {
            label: way.label,
            keys: way.keys,
            is_used: way.is_used(table),
        });
        Choice {
            label: self.label,
            ways: ways.collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::keys::{self, TABLES};

    #[test]
    fn law_every_key_of_a_choice_is_declared_in_its_table() {
        let mut seen = 0;
        for table in TABLES {
            for choice in of(table.path) {
                for way in choice.ways {
                    for key in way.keys.iter().chain(way.needs) {
                        assert!(keys::in_table(table.path, key).is_some(), "{key}");
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen > 50);
    }
}
