//! Words of the computation's own trade that must reach neither screen nor paper.

/// Words that a turner does not use for these things, in small letters; matched as the beginning of a word.
const JARGON: &[&str] = &[
    "finite element",
    "element",
    "node",
    "mesh",
    "matrix",
    "matrices",
    "eigen",
    "degree of freedom",
    "degrees of freedom",
    "dof",
    "fem",
    "boundary condition",
    "solver",
    "solved for",
    "iteration",
    "converge",
    "residual",
    "receptance",
    "compliance",
    "modal",
    "mode shape",
    "stiffness matrix",
    "condens",
    "discreti",
    "vector",
    "scalar",
    "tensor",
    "linear complementarity",
    "complementarity",
    "penalty",
    "interpolat",
    "quadrature",
    "timestep",
    "lateral",
    "transverse",
    "x-axis",
    "y-axis",
    "z-axis",
    "x axis",
    "y axis",
    "z axis",
    "radian",
    "algorithm",
    "simulation",
    "simulate",
    "null",
    "nan",
    "boolean",
    "parameter",
    "enum",
    "deflection curve",
];

/// The words of the list in a text.
pub fn jargon(text: &str) -> Vec<&'static str> {
    let text = text.to_lowercase();
    let begins = |at: usize| !text[..at].chars().next_back().is_some_and(char::is_alphanumeric);
    // The short ones must be whole words: "nan" is in no sentence, "mode" in "model" is no fault.
    let ends = |word: &str, at: usize| {
        word.len() > 4 || !text[at + word.len()..].chars().next().is_some_and(char::is_alphanumeric)
    };
    let holds = |word: &&&str| text.match_indices(**word).any(|(at, _)| begins(at) && ends(word, at));
    JARGON.iter().filter(holds).copied().collect()
}
