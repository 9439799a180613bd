//! From the list of rules to what is made of it: their names, what is asked of each, and how each is reached.

/// Makes [`RuleName`](super::RuleName) and [`Rules`](super::Rules) of the list of rules, in its order. A line gives a
/// rule's name, where it is, and, for one that has a key, under which field [`Rules`](super::Rules) has what is asked.
macro_rules! rules {
    ($( $name:ident = $file:ident :: $rule:ident $(asks $($field:ident)?)?; )+) => {
        /// The rules' names.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum RuleName { $(
            #[doc = concat!("The rule in `", stringify!($file), ".rs`.")]
            $name,
        )+ }

        /// How many rules there are.
        const COUNT: usize = [$( RuleName::$name ),+].len();

        impl RuleName {
            /// Every rule with the name an author writes, and whether it is hard unless she says otherwise.
            pub const ALL: [(RuleName, &'static str, bool); COUNT] = [$( {
                const ABOUT: About = <$file::$rule as Declared>::ABOUT;
                (RuleName::$name, ABOUT.name, ABOUT.hard)
            } ),+];

            /// What the rule declares of itself.
            pub fn about(self) -> &'static About {
                match self { $( RuleName::$name => {
                    const ABOUT: &About = &<$file::$rule as Declared>::ABOUT;
                    ABOUT
                } )+ }
            }

            /// The rule itself.
            pub fn rule(self) -> &'static dyn Rule {
                match self { $( RuleName::$name => &$file::$rule, )+ }
            }
        }

        /// What is asked of the rules, every default filled in.
        #[derive(Clone, Debug, PartialEq, Hash)]
        pub struct Rules {
            $( $( $(
                #[doc = concat!("What is asked of the rule in `", stringify!($file), ".rs`.")]
                pub $field: <$file::$rule as Asks>::Asked,
            )? )? )+
            /// What `must`, `may-give` and `importance` say of each rule.
            pub weights: BTreeMap<RuleName, Weight>,
        }

        impl Default for Rules {
            fn default() -> Rules {
                Rules {
                    $( $( $( $field: <$file::$rule as Asks>::UNLESS_SAID, )? )? )+
                    weights: BTreeMap::new(),
                }
            }
        }

        impl Rules {
            /// Shows every rule that has a key, with what is asked of it, to a visitor who may change that.
            pub fn visit(&mut self, visitor: &mut impl Visitor) {
                $( $crate::rules::list::rules!(@visit self visitor $name $file::$rule $(asks $($field)?)?); )+
            }
        }
    };
    (@visit $all:ident $visitor:ident $name:ident $file:ident :: $rule:ident) => {};
    (@visit $all:ident $visitor:ident $name:ident $file:ident :: $rule:ident asks) => {
        $visitor.visit::<$file::$rule>(RuleName::$name, &mut ());
    };
    (@visit $all:ident $visitor:ident $name:ident $file:ident :: $rule:ident asks $field:ident) => {
        $visitor.visit::<$file::$rule>(RuleName::$name, &mut $all.$field);
    };
}
pub(super) use rules;
