//! What the cautions say: whole sentences, short enough to be read at the wall.

use crate::{
    cautions::Caution,
    language::{Text, text},
};

/// What a caution says.
pub fn caution(caution: Caution) -> Text {
    match caution {
        Caution::LocalCode => text(
            "Local code and licensed practice come first.",
            "Primero van el código local y lo que mande quien tiene licencia.",
        ),
        Caution::Protection => text(
            "Respirator, goggles and gloves on before a valve is opened.",
            "Respirador, gafas de protección y guantes puestos antes de abrir una válvula.",
        ),
        Caution::KeepOut => text(
            "Nobody else in the space. Come back when the maker's sheet says so.",
            "Nadie más en el lugar. Vuelva a entrar cuando lo diga la hoja del fabricante.",
        ),
        Caution::Ignition => text("Ignition sources off.", "Apague toda fuente de ignición."),
        Caution::ThermalBarrier => text(
            "Foam needs a thermal barrier to the room: 1/2 in gypsum board or what the code accepts.",
            "La espuma necesita una barrera térmica hacia el cuarto: panel de yeso de 1/2 pulg o lo que acepte el código.",
        ),
        // unsure: "capas" for the lifts of a pour.
        Caution::Heat => text(
            "Thick pours and scraps heat up. Keep lifts small, spread scraps, extinguisher at hand.",
            "Las capas gruesas y los sobrantes se calientan. Capas chicas, sobrantes extendidos, extintor a la mano.",
        ),
        Caution::Services => text(
            "Power off. Find wires and pipes first. Anything but air behind the board: stop.",
            "Corte la corriente. Primero busque cables y tubos. Si detrás del panel hay algo que no sea aire: alto.",
        ),
        // unsure: "perilla y tubo" for knob-and-tube.
        Caution::KnobAndTube => text(
            "Knob-and-tube wiring: stop. It may not be buried in foam.",
            "Cableado de perilla y tubo: alto. No se permite cubrirlo con espuma.",
        ),
        Caution::BundledCables => text(
            "More than two cables in foam: ask an electrician first.",
            "Más de dos cables en la espuma: pregunte primero a un electricista.",
        ),
        Caution::Flue => text(
            "Clearances of chimneys and appliances stay empty.",
            "El espacio libre junto a chimeneas y aparatos se queda vacío.",
        ),
        Caution::Lead => text(
            "Paint from before 1978: work by the lead rule.",
            "Pintura de antes de 1978: trabaje según la regla del plomo.",
        ),
        // unsure: "enlucido" for plaster.
        Caution::Asbestos => text(
            "Plaster, textured coats and vermiculite: test for asbestos before drilling.",
            "Enlucido, texturas y vermiculita: haga la prueba de asbesto antes de taladrar.",
        ),
        Caution::Bowing => text(
            "Thin or loose board bows: smaller lifts, brace it.",
            "El panel delgado o flojo se pandea: capas más chicas, y apuntálelo.",
        ),
        Caution::Draught => text(
            "Fires and boilers: test the draught after the house is tighter.",
            "Chimeneas y calderas: pruebe el tiro cuando la casa quede más cerrada.",
        ),
    }
}
