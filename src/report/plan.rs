//! The words on the plan: what is beside the names that files give.

use crate::phrases::phrases;

phrases! { pub in "plan";
    KEEP_CLEAR = "keep clear:\n{name}";
    INSTALLED = "{name}, installed";
    FROM = "{name}, from {height}";
    MOVABLE = "{name}, movable";
    CLEARED = "{name}, cleared";
    TO_HIGH = "to {height} high";
    TO_BE_SEEN = "to be seen";
    DRIVEN_ON = "driven on for\n{setup}";
    THRUST_RIGHT = "thrust line {deg}° right";
    THRUST_LEFT = "thrust line {deg}° left";
    OPEN = "{name}\n{size}, open";
    SHUT = "{name}\n{size}, shut";
    /// A mark whose name another setup gives to another place.
    MARK_OF = "{name} of\n{setup}";
    AXLE_HERE = "front axle may stand here";
    ON_THE_WAY = "{label} on the way in";
    LEVEL_INSIDE = "floor level enough inside";
    BEST_FLOOR = "best floor: within its limit by {mm}";
}
