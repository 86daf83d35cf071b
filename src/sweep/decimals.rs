//! Floating-point numbers in JSON as texts, the shortest decimals that read back as the same number: readers of JSON may round
//! what is written as a number.

/// One number.
pub(super) mod one {
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serializer};

    pub(in crate::sweep) fn serialize<S: Serializer>(
        value: &f64,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        to.serialize_str(&value.to_string())
    }

    pub(in crate::sweep) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<f64, D::Error> {
        let text = String::deserialize(from)?;
        text.parse()
            .map_err(|_| D::Error::custom(format!("\"{text}\" is no number")))
    }
}

/// A number, or none.
pub(super) mod maybe {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    #[derive(Serialize, Deserialize)]
    struct Decimal(#[serde(with = "super::one")] f64);

    pub(in crate::sweep) fn serialize<S: Serializer>(
        value: &Option<f64>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        value.map(Decimal).serialize(to)
    }

    pub(in crate::sweep) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<f64>, D::Error> {
        let read = Option::<Decimal>::deserialize(from)?;
        Ok(read.map(|Decimal(value)| value))
    }
}
