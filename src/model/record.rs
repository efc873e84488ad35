//! How the types of the files are declared: the declaration is also how they are read and written.
//!
//! `record!` is a bracket with named fields, `values!` one without names, `choice!` one of some words, each alone or with
//! a bracket of its own. A field may say in square brackets how it is read: `[default]` (may be left out), `[or 1]` (the
//! value where it is left out), `[is num::size]` (read by that function), `[opt num::size]` (the same, may be left out),
//! `[default is num::coord]`. A field of type `Option` may always be left out.

macro_rules! record {
    (
        $(#[$meta:meta])*
        $vis:vis struct $name:ident as $called:literal {
            $( $(#[$fm:meta])* $fv:vis $field:ident : $ty:ty $([$($how:tt)+])? ),* $(,)?
        }
    ) => {
        $(#[$meta])*
        $vis struct $name { $( $(#[$fm])* $fv $field: $ty ),* }

        impl crate::model::reading::Record for $name {
            const CALLED: &'static str = $called;
            const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];
        }

        impl crate::model::reading::FromFile for $name {
            fn read(r: &mut crate::model::reading::Reader, id: crate::syntax::Id) -> Option<Self> {
                use crate::model::reading::Record;
                let mut given = r.fields(id, stringify!($name), Self::CALLED, Self::FIELDS)?;
                Some($name { $( $field: crate::model::record::field!(r, given, $ty $(, $($how)+)?) ),* })
            }
            fn stand_in() -> Self {
                $name { $( $field: <$ty as crate::model::reading::FromFile>::stand_in() ),* }
            }
        }

        impl crate::model::writing::ToFile for $name {
            fn write(&self, w: &mut crate::model::writing::Writer) {
                w.open("", '(');
                $( crate::model::record::put!(w, self.$field, $field, $ty $(, $($how)+)?); )*
                w.close(')');
            }
        }
    };
}

macro_rules! values {
    (
        $(#[$meta:meta])*
        $vis:vis struct $name:ident ( $( $fv:vis $ty:ty $([$($how:tt)+])? ),* $(,)? );
    ) => {
        $(#[$meta])*
        $vis struct $name( $( $fv $ty ),* );

        impl crate::model::reading::FromFile for $name {
            fn read(r: &mut crate::model::reading::Reader, id: crate::syntax::Id) -> Option<Self> {
                let ids: [crate::syntax::Id; [$(stringify!($ty)),*].len()] = r.values(id)?;
                let mut ids = ids.into_iter();
                Some($name( $( crate::model::record::value!(r, ids, $ty $(, $($how)+)?) ),* ))
            }
            fn stand_in() -> Self {
                $name( $( <$ty as crate::model::reading::FromFile>::stand_in() ),* )
            }
        }

        impl crate::model::writing::ToFile for $name {
            fn write(&self, w: &mut crate::model::writing::Writer) {
                crate::model::record::put_variant!(self, w, $name ( $( $ty ),* ));
            }
        }
    };
}

macro_rules! choice {
    (
        $(#[$meta:meta])*
        $vis:vis enum $name:ident {
            $(
                $(#[$vm:meta])* $var:ident
                $(( $( $tty:ty $([$($thow:tt)+])? ),* $(,)? ))?
                $({ $( $(#[$fm:meta])* $field:ident : $fty:ty $([$($fhow:tt)+])? ),* $(,)? })?
            ),* $(,)?
        }
    ) => {
        $(#[$meta])*
        $vis enum $name {
            $( $(#[$vm])* $var $(( $( $tty ),* ))? $({ $( $(#[$fm])* $field: $fty ),* })? ),*
        }

        impl crate::model::reading::FromFile for $name {
            fn read(r: &mut crate::model::reading::Reader, id: crate::syntax::Id) -> Option<Self> {
                let word = r.word(id, &[$(stringify!($var)),*])?;
                $(
                    if word == stringify!($var) {
                        return crate::model::record::variant!(r, id, $name, $var
                            $(( $( $tty $([$($thow)+])? ),* ))? $({ $( $field: $fty $([$($fhow)+])? ),* })?);
                    }
                )*
                None
            }
            crate::model::record::first! { $name $( $var $(( $( $tty ),* ))? $({ $( $field: $fty ),* })? ; )* }
        }

        impl crate::model::writing::ToFile for $name {
            #[allow(irrefutable_let_patterns, reason = "a choice of one word")]
            fn write(&self, w: &mut crate::model::writing::Writer) {
                $(
                    crate::model::record::put_variant!(self, w, $name :: $var
                        $(( $( $tty ),* ))? $({ $( $field: $fty $([$($fhow)+])? ),* })?);
                )*
            }
        }
    };
}

/// The stand-in of a choice: its first word.
macro_rules! first {
    ($name:ident $var:ident ; $($rest:tt)*) => {
        fn stand_in() -> Self { $name::$var }
    };
    ($name:ident $var:ident ( $( $ty:ty ),* ) ; $($rest:tt)*) => {
        fn stand_in() -> Self {
            $name::$var( $( <$ty as crate::model::reading::FromFile>::stand_in() ),* )
        }
    };
    ($name:ident $var:ident { $( $field:ident : $ty:ty ),* } ; $($rest:tt)*) => {
        fn stand_in() -> Self {
            $name::$var { $( $field: <$ty as crate::model::reading::FromFile>::stand_in() ),* }
        }
    };
}

macro_rules! variant {
    ($r:ident, $id:ident, $name:ident, $var:ident) => {{
        $r.alone($id)?;
        Some($name::$var)
    }};
    ($r:ident, $id:ident, $name:ident, $var:ident ( $( $ty:ty $([$($how:tt)+])? ),* )) => {{
        $r.bracketed($id)?;
        let ids: [crate::syntax::Id; [$(stringify!($ty)),*].len()] = $r.values($id)?;
        let mut ids = ids.into_iter();
        Some($name::$var( $( crate::model::record::value!($r, ids, $ty $(, $($how)+)?) ),* ))
    }};
    ($r:ident, $id:ident, $name:ident, $var:ident { $( $field:ident : $ty:ty $([$($how:tt)+])? ),* }) => {{
        $r.bracketed($id)?;
        let called = concat!("`", stringify!($var), "`");
        let mut given = $r.fields($id, stringify!($var), called, &[$(stringify!($field)),*])?;
        Some($name::$var { $( $field: crate::model::record::field!($r, given, $ty $(, $($how)+)?) ),* })
    }};
}

macro_rules! field {
    ($r:ident, $given:ident, $ty:ty) => {
        $r.field::<$ty>(&mut $given)
    };
    ($r:ident, $given:ident, $ty:ty, default) => {
        $r.field_or::<$ty>(&mut $given, Default::default())
    };
    ($r:ident, $given:ident, $ty:ty, or $v:expr) => {
        $r.field_or::<$ty>(&mut $given, $v)
    };
    ($r:ident, $given:ident, $ty:ty, is $by:path) => {
        $r.field_by::<$ty>(&mut $given, $by, None)
    };
    ($r:ident, $given:ident, $ty:ty, default is $by:path) => {
        $r.field_by::<$ty>(&mut $given, $by, Some(Default::default()))
    };
    ($r:ident, $given:ident, $ty:ty, opt $by:path) => {
        $r.field_opt(&mut $given, $by)
    };
}

macro_rules! value {
    ($r:ident, $ids:ident, $ty:ty) => {
        match $ids.next() {
            Some(id) => $r.value::<$ty>(id),
            None => <$ty as crate::model::reading::FromFile>::stand_in(),
        }
    };
    ($r:ident, $ids:ident, $ty:ty, is $by:path) => {
        match $ids.next() {
            Some(id) => $by($r, id)?,
            None => <$ty as crate::model::reading::FromFile>::stand_in(),
        }
    };
}

/// Writes a field, where it says something that its absence would not.
macro_rules! put {
    ($w:ident, $v:expr, $field:ident, $ty:ty, default) => {
        if $v != <$ty as Default>::default() {
            $w.field(stringify!($field), &$v);
        }
    };
    ($w:ident, $v:expr, $field:ident, $ty:ty, default is $by:path) => {
        crate::model::record::put!($w, $v, $field, $ty, default)
    };
    ($w:ident, $v:expr, $field:ident, $ty:ty, or $or:expr) => {
        $w.field(stringify!($field), &$v)
    };
    ($w:ident, $v:expr, $field:ident, $ty:ty $(, $how:ident $by:path)?) => {
        $w.field(stringify!($field), &$v)
    };
}

/// Writes a value that is this variant, or a bracket without names.
macro_rules! put_variant {
    ($self:ident, $w:ident, $name:ident :: $var:ident) => {
        if let $name::$var = $self {
            $w.word(stringify!($var));
        }
    };
    ($self:ident, $w:ident, $name:ident :: $var:ident { $( $field:ident : $ty:ty $([$($how:tt)+])? ),* }) => {
        if let $name::$var { $( $field ),* } = $self {
            $w.open(stringify!($var), '(');
            $( crate::model::record::put!($w, *$field, $field, $ty $(, $($how)+)?); )*
            $w.close(')');
        }
    };
    ($self:ident, $w:ident, $name:ident :: $var:ident ( $a:ty )) => {
        if let $name::$var(a) = $self {
            $w.tuple(stringify!($var), &[a]);
        }
    };
    ($self:ident, $w:ident, $name:ident :: $var:ident ( $a:ty, $b:ty )) => {
        if let $name::$var(a, b) = $self {
            $w.tuple(stringify!($var), &[a, b]);
        }
    };
    ($self:ident, $w:ident, $name:ident :: $var:ident ( $a:ty, $b:ty, $c:ty )) => {
        if let $name::$var(a, b, c) = $self {
            $w.tuple(stringify!($var), &[a, b, c]);
        }
    };
    ($self:ident, $w:ident, $name:ident ( $a:ty, $b:ty )) => {{
        let $name(a, b) = $self;
        $w.tuple("", &[a, b]);
    }};
    ($self:ident, $w:ident, $name:ident ( $a:ty, $b:ty, $c:ty )) => {{
        let $name(a, b, c) = $self;
        $w.tuple("", &[a, b, c]);
    }};
}

pub(super) use {choice, field, first, put, put_variant, record, value, values, variant};
