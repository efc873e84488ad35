//! Where the vehicle can stand: cases worked by hand, random bays against a slow exact method, and the rules
//! themselves at poses inside and outside the regions found.

mod bays;
mod hand;
mod rough;
mod slow;
mod trade;
