//! Labels and lines without figures.

use risemark::language::text;

use super::Word;

/// Declares texts that say for themselves where they stand: English, then Spanish.
macro_rules! texts {
    ($($name:ident = $english:literal, $spanish:literal;)*) => {
        $(
            #[doc = concat!("“", $english, "”")]
            pub const $name: Word = Word::new(text($english, $spanish));
        )*

        #[cfg(test)]
        pub(super) const ALL: &[Word] = &[$($name),*];
    };
}

texts! {
    APP = "Risemark", "Risemark";
    LOADING = "Loading…", "Cargando…";
    NOT_LOADED = "Part of the planner could not be loaded. It needs the network once; after that it is kept on this device.", "No se pudo cargar una parte del planificador. Necesita la red una vez; después queda guardada en este dispositivo.";
    LOAD_AGAIN = "Load again", "Cargar de nuevo";
    SKIP_TO_CONTENT = "Skip to the content", "Saltar al contenido";
    PLACES = "Places", "Lugares";
    JOB = "Job", "Trabajo";
    WALL = "Wall", "Pared";
    SHEETS = "Sheets", "Hojas";
    UNDO = "Undo", "Deshacer";
    REDO = "Redo", "Rehacer";
    REMOVE = "Remove", "Quitar";
    NEEDED = "this must be given", "este dato es necesario";
    UNKNOWN = "unknown", "desconocido";
    OPENS_OFFLINE = "Opens without a network too.", "También se abre sin red.";
    NEW_VERSION =
        "A new version is ready. What you have open stays as it is until you take it.",
        "Hay una versión nueva. Lo que tiene abierto queda como está hasta que la tome.";
    TAKE_NEW_VERSION = "Take the new version", "Tomar la versión nueva";

    SAMPLE_NOTICE =
        "This is a sample job, finished for you to look around in.",
        "Este es un trabajo de muestra, ya terminado, para que lo recorra.";
    NEW_JOB = "New empty job", "Trabajo nuevo vacío";
    SAMPLE_JOB = "Sample job", "Trabajo de muestra";
    OPEN_JOB = "Open job…", "Abrir trabajo…";
    SAVE_JOB = "Save job", "Guardar trabajo";
    JOBS_HERE = "Jobs on this device", "Trabajos en este dispositivo";
    OPEN = "Open", "Abrir";
    OPEN_NOW = "open now", "abierto ahora";
    REMOVED_JOBS = "Removed jobs", "Trabajos quitados";
    BRING_BACK = "Bring back", "Recuperar";
    CLEAR_REMOVED = "Delete removed jobs for good", "Borrar para siempre los trabajos quitados";
    READ_ONLY =
        "Nothing can be changed here at the moment",
        "Por ahora aquí no se puede cambiar nada";
    KEEP_FIRST =
        "Keep a copy of this job first, with the button at the top",
        "Primero guarde una copia de este trabajo, con el botón de arriba";
    WHAT_IS_KEPT = "Whether this job is kept", "Si este trabajo está guardado";
    TRY_AGAIN = "Try again", "Intentar otra vez";
    KEPT = "Kept on this device.", "Guardado en este dispositivo.";
    KEPT_FOR_NOW =
        "Kept on this device, as long as the browser has room.",
        "Guardado en este dispositivo, mientras el navegador tenga lugar.";
    KEEPING = "Keeping…", "Guardando…";
    ELSEWHERE =
        "Open in another tab: read only here, until that tab is closed.",
        "Abierto en otra pestaña: aquí solo se lee, hasta que se cierre esa pestaña.";
    SHARED =
        "This job came with a link. You look at it; it is not kept.",
        "Este trabajo llegó con un enlace. Usted lo mira; no se guarda.";
    KEEP_COPY = "Keep a copy", "Guardar una copia";
    SEND_AS_LINK = "Send as a link", "Enviar como enlace";
    LINK = "Link to this job", "Enlace a este trabajo";
    LINK_HINT =
        "The whole job is in the link. Whoever has the link can read it; nothing is sent by itself.",
        "El trabajo completo está en el enlace. Quien tenga el enlace puede leerlo; nada se envía por sí solo.";
    LINK_TOO_LONG =
        "This job is too long for a link that arrives whole. Save it as a file and send that.",
        "Este trabajo es demasiado largo para un enlace que llegue completo. Guárdelo como archivo y envíe el archivo.";
    NO_LINK =
        "This browser cannot make links. Save the job as a file and send that.",
        "Este navegador no puede hacer enlaces. Guarde el trabajo como archivo y envíe el archivo.";
    CODE_HINT =
        "A phone's camera opens the job from this code.",
        "La cámara de un teléfono abre el trabajo con este código.";
    COPY_LINK = "Copy the link", "Copiar el enlace";
    COPIED = "Copied.", "Copiado.";
    LINK_REFUSED = "The link was not opened", "El enlace no se abrió";
    LINK_DAMAGED =
        "It was cut or changed on its way. Ask for it again, or for the job as a file.",
        "Se cortó o cambió en el camino. Pídalo otra vez, o pida el trabajo como archivo.";
    LINK_TOO_LARGE =
        "It stands for more than any job needs.",
        "Contiene más de lo que necesita cualquier trabajo.";
    DENIED =
        "Not kept: this browser gives the planner no storage. Save the job as a file.",
        "No se guardó: este navegador no da almacenamiento. Guarde el trabajo como archivo.";
    FULL =
        "Not kept: there is no room left. Save the job as a file.",
        "No se guardó: ya no hay lugar. Guarde el trabajo como archivo.";
    BLOCKED =
        "Not kept: an older planner is open in another tab. Save the job as a file, close that tab, load this page again.",
        "No se guardó: hay un planificador más viejo abierto en otra pestaña. Guarde el trabajo como archivo, cierre esa pestaña y vuelva a cargar esta página.";
    CLOSED =
        "Read only: a newer planner keeps the jobs now. Load this page again to get it.",
        "Solo lectura: un planificador más nuevo guarda ahora los trabajos. Vuelva a cargar esta página para tenerlo.";
    FAILED =
        "Not kept: the browser could not write. Save the job as a file.",
        "No se guardó: el navegador no pudo escribir. Guarde el trabajo como archivo.";
    DAMAGED =
        "Some of what was kept is damaged. What could be read is here; the rest can be saved as it is.",
        "Una parte de lo guardado está dañada. Lo que se pudo leer está aquí; lo demás se puede guardar tal como está.";
    NEWER =
        "A newer planner kept jobs that this one cannot read. Load the page again, or save them as they are.",
        "Un planificador más nuevo guardó trabajos que este no puede leer. Vuelva a cargar la página, o guárdelos tal como están.";
    GAP =
        "Some earlier steps of this job could not be read; the job itself is whole.",
        "No se pudieron leer algunos pasos anteriores de este trabajo; el trabajo mismo está completo.";
    SAVE_RECORDS = "Save as they are", "Guardar tal como están";
    CLEAR_DAMAGED = "Delete the damaged records", "Borrar los registros dañados";
    NO_WALLS_TO_FILL = "No walls yet: what they take of foam stands here once there are some.", "Todavía no hay paredes: aquí estará la espuma que lleven.";
    NO_WALLS =
        "No walls yet. Three answers give a first plan.",
        "Todavía no hay paredes. Tres respuestas dan un primer plan.";
    FILE_REFUSED = "The file was not opened", "El archivo no se abrió";
    JOB_NAME = "Job", "Trabajo";
    PLACE = "Place", "Lugar";
    DATE = "Date on the sheets", "Fecha en las hojas";
    UNITS = "Lengths in", "Medidas en";
    YEAR_BUILT = "Year built", "Año de construcción";
    LANGUAGE = "Language · Idioma", "Idioma · Language";
    ABOUT_JOB = "About the job", "Sobre el trabajo";
    NEW_JOB_NAME = "New job", "Trabajo nuevo";
    RULES = "Rules of this job", "Reglas de este trabajo";
    WALLS = "Walls", "Paredes";
    ADD_WALL = "Add a wall", "Agregar una pared";
    HOW_WIDE = "How wide?", "¿De qué ancho?";
    HOW_HIGH = "How high?", "¿De qué alto?";
    HOW_DEEP = "How deep is the cavity?", "¿De qué fondo es la cavidad?";
    ANSWERS_NEEDED = "How wide and how high must be given.", "Hay que dar el ancho y el alto.";
    FRAMED_OF = "Framed of", "Madera del armazón";
    ROOM_AND_LUMBER = "Room and lumber", "Cuarto y madera";
    HOLES = "Holes", "Agujeros";
    ROWS_AND_HOLES = "Rows and own holes", "Filas y agujeros propios";
    ROWS_FROM = "Heights of rows", "Alturas de las filas";
    HEIGHT_OF_ROW = "Height", "Altura";
    UP_TO = "Up to", "Hasta";
    LAP_SPACING = "From lap to lap", "De traslape a traslape";
    ADD_LIKED = "Like a height", "Preferir una altura";
    ADD_BAND = "Keep a band free", "Dejar libre una franja";
    ADD_HOLE = "Set a hole", "Poner un agujero";
    KEEP_HERE = "Keep it here", "Dejarlo aquí";
    LEAVE_OUT = "Leave it out", "Omitirlo";
    GIVE_BACK = "Give it back to the planner", "Devolvérselo al programa";
    IS_DRILLED = "It is drilled", "Ya está taladrado";
    IS_PATCHED = "It is patched over", "Ya está resanado";
    AT_THE_WALL = "At the wall", "En la pared";
    MARKS_ARE_ON = "The marks are on the wall", "Las marcas están en la pared";
    MARKS_HINT =
        "From then on a block, a stud or a pipe that turns up changes the plan only where it must, and new holes get new numbers.",
        "Desde entonces, un bloque, un montante o un tubo que aparezca cambia el plan solo donde hace falta, y los agujeros nuevos llevan números nuevos.";
    PLAN_ANEW = "Plan the marked holes anew", "Planear de nuevo los agujeros marcados";
    FOAM = "Foam", "Espuma";
    FOAM_CAUTION =
        "Respirator, goggles and gloves before a valve is opened; flames off; nobody else in the space. The maker's sheet and local code come first.",
        "Respirador, gafas y guantes antes de abrir una válvula; llamas apagadas; nadie más en el lugar. Primero la hoja del fabricante y el código local.";
    FLOW_OF_PRACTICE = "common practice, until you have tested it", "práctica común, hasta que la pruebe";
    FLOW_OF_ONE_SHOT = "from one test shot, so without a range", "de una sola inyección de prueba, por eso sin intervalo";
    FLOW_OF_SHOTS = "from your test shots", "de sus inyecciones de prueba";
    SPRAYING = "Spraying", "Tiempo de inyección";
    ORDER = "Order of shots", "Orden de las inyecciones";
    TEST_SHOTS = "Test shots", "Inyecciones de prueba";
    TEST_SHOTS_HINT =
        "Spray into a bay or a box of known size, wait at least 90 s, and read how far the foam rose.",
        "Inyecte en un espacio o una caja de medidas conocidas, espere al menos 90 s y lea cuánto subió la espuma.";
    NEW_TEST_SHOT = "New test shot", "Nueva inyección de prueba";
    RECORD_TEST_SHOT = "Record it", "Anotarla";
    SHOT_NEEDED = "Seconds and rise must be given.", "Hay que dar los segundos y la subida.";
    FLOW_PLOT = "Test shots by seconds and volume, with their line and its band", "Inyecciones de prueba por segundos y volumen, con su recta y su banda";
    SECONDS = "Seconds", "Segundos";
    WAITED = "Waited", "Espera";
    RISE = "Rise", "Subida";
    SPRAYED_INTO = "Sprayed into", "Se inyectó en";
    A_BOX = "a box", "una caja";
    THE_BAY = "Its bay", "Su espacio";
    TOUCH_THE_BAY = "Or touch the bay:", "O toque el espacio:";
    BOX_WIDTH = "Clear width", "Ancho libre";
    BOX_DEPTH = "Clear depth", "Profundidad libre";
    NOZZLE_NUMBER = "Number of the nozzle", "Número de la boquilla";
    SCATTER = "Scatter", "Dispersión";
    CONFIDENCE = "Confidence", "Confianza";
    FLOW = "Flow", "Caudal";
    STANDARD_ERROR = "Standard error", "Error estándar";
    SPREAD = "Spread about the line", "Dispersión en torno a la recta";
    R_SQUARED = "R² through the origin", "R² por el origen";
    KITS = "Kits", "Kits";
    KIT_SIZES = "Sizes you can buy", "Tamaños que puede comprar";
    BOARD_FEET = "Board feet", "Pies tabla";
    AT_HAND = "At hand", "Disponibles";
    ADD_KIT = "Add a size", "Agregar un tamaño";
    YIELD_AND_SHOTS = "Yield, waste, length of shots", "Rendimiento, desperdicio, duración";
    USABLE = "Usable share of the nominal yield", "Parte útil del rendimiento nominal";
    USABLE_SPREAD = "Spread of that share", "Dispersión de esa parte";
    WASTE = "Waste", "Desperdicio";
    TEMPERATURE = "Temperature of the components", "Temperatura de los componentes";
    LONGEST_SHOT = "Longest shot", "Inyección más larga";
    SHORTEST_SHOT = "Shortest shot", "Inyección más corta";
    PAUSE = "Between shots through one hole, not under the setting", "Entre inyecciones por un agujero, no menos que el fraguado";
    LIFT_HEIGHT = "Highest rise of one shot", "Altura máxima de una inyección";
    SHOT_VOLUME = "Most board feet of one shot", "Máximo de pies tabla por inyección";
    NO_LIMIT = "no limit", "sin límite";
    WORK = "How people work", "Cómo trabaja la gente";
    PEOPLE = "People", "Personas";
    MARKING_TIME = "Marking a hole", "Marcar un agujero";
    DRILLING_TIME = "Drilling a hole", "Taladrar un agujero";
    PATCHING_TIME = "Closing a hole", "Tapar un agujero";
    CLEANING_TIME = "Setting up and cleaning", "Preparar y limpiar";
    SPARE_NOZZLES = "Spare nozzles", "Boquillas de reserva";
    SHOPPING_LIST = "Shopping list", "Lista de compras";
    YOUR_PRICES = "Your prices", "Sus precios";
    CURRENCY = "Sign of your money", "Signo de su moneda";
    PRICE_OF_KIT = "Price of this kit", "Precio de este kit";
    NOZZLE = "Nozzle", "Boquilla";
    TUBE = "Tube", "Tubo";
    JELLY = "Petroleum jelly", "Vaselina";
    PLUG = "Plug", "Tapón";
    COMPOUND = "Patching compound", "Pasta para resanar";
    MASK = "Mask", "Mascarilla";
    CARTRIDGES = "Pair of cartridges", "Par de cartuchos";
    DROP_CLOTH = "Drop cloth", "Lona protectora";
    DRILL_BIT = "Drill bit", "Broca";
    HOUR = "One hour of one person", "Una hora de una persona";
    RETURN_TRIP = "Coming back when foam runs short", "Volver si falta espuma";
    CHANCE = "Chance", "Probabilidad";
    CHANCE_PLOT = "Chance of finishing by the number of kits", "Probabilidad de terminar según los kits";
    LEFT_OVER = "Left over", "Sobra";
    COST = "Cost", "Costo";
    ITEM = "Item", "Artículo";
    QUANTITY = "Quantity", "Cantidad";
    SAVE_LIST = "Save the list (CSV)", "Guardar la lista (CSV)";
    SEARCHING_ORDER = "Looking for a better order…", "Buscando un orden mejor…";
    STOP_SEARCH = "Stop", "Parar";
    CREW = "How the crew works", "Cómo trabaja la cuadrilla";
    SETTING = "Setting between lifts", "Fraguado entre capas";
    IDLE_LIMIT = "Idle limit of the nozzle", "Pausa máxima de la boquilla";
    SET_UP = "Placing the tube", "Colocar el tubo";
    WALKING = "Walking speed", "Velocidad al caminar";
    CART = "To another wall", "A otra pared";
    NOZZLE_CHANGE = "Changing the nozzle", "Cambiar la boquilla";
    NOZZLE_WEIGHT = "What a nozzle is worth", "Lo que vale una boquilla";
    KIT_CHANGE = "Changing the kit", "Cambiar el kit";
    PURGE = "Purging a new kit", "Purgar un kit nuevo";
    BEGIN_HERE = "Begin with the chosen shot", "Empezar con la elegida";
    FREE_BEGINNING = "Let the planner choose where to begin", "Que el programa elija dónde empezar";
    WALLS_IN_TURN = "Finish one wall after the other", "Terminar una pared tras otra";
    KEEP_TO_HERE = "Keep the sequence up to here", "Conservar la secuencia hasta aquí";
    KEEP_THIS = "Keep the chosen hole in its turn", "Conservar el turno del agujero elegido";
    FREE_THIS = "Free the chosen hole", "Soltar el agujero elegido";
    FREE_SEQUENCE = "Free the whole sequence", "Soltar toda la secuencia";
    FIXED = "fixed", "fijo";
    FREE_WALLS = "Go between walls as it fits", "Ir de una pared a otra como convenga";
    TIMELINE = "Shots by time", "Inyecciones en el tiempo";
    TIME_HINT =
        "Bars are shots, falling lines what is left of the nozzle's life, triangles changes; touch one to find it on the wall.",
        "Las barras son inyecciones, las líneas que bajan lo que le queda a la boquilla, los triángulos cambios; toque uno para hallarlo en la pared.";
    SHOT = "Shot", "Inyección";
    AT_TIME = "At", "A los";
    NOTE = "Note", "Nota";
    SPACES = "Spaces", "Espacios cerrados";
    SPACE = "Space", "Espacio";
    SIZE = "Size", "Medidas";
    PROBED_CLEAR = "Probed clear", "Sondeado y libre";
    BLOCK_AT = "Block met at", "Bloque topado a";
    HOW_TO_PROBE =
        "Drill one hole of the space, push a stiff wire or a tape down and up inside until it stops, and hold it against the wall: it stops at the plate, or at a block that nobody knew of.",
        "Taladre un agujero del espacio, meta un alambre rígido o un flexómetro hacia abajo y hacia arriba hasta que tope, y mídalo contra la pared: topa en la solera o en un bloque que nadie conocía.";
    NOT_IN_THE_SPACE = "not in this space", "no está en este espacio";
    FEWEST_LINES = "fewest possible", "las menos posibles";
    // unsure: "línea de tiza" for a snap line; in Mexico also "línea de gis" or "reventón".
    LINES = "Snap lines", "Líneas de tiza";
    TO_FILL = "To fill", "Por llenar";
    COUNTING = "counting…", "contando…";
    WALL_SETTINGS = "What walls start with", "Con qué empiezan las paredes";
    COPY = "Copy", "Copiar";
    RENAME = "Rename", "Cambiar nombre";
    COPY_SUFFIX = "copy", "copia";
    MIRROR = "Mirror", "Reflejar";
    MIRROR_SUFFIX = "mirrored", "reflejada";
    EARLIER = "Earlier", "Antes";
    LATER = "Later", "Después";

    BIT = "Bit diameter", "Diámetro de la broca";
    ANGLE = "Drill angle, below level", "Ángulo de taladrado, bajo el nivel";
    MARKING_STEP = "Marking step", "Paso de marcado";
    SIDE_CLEARANCE = "Hole edge to timber", "Del borde del agujero a la madera";
    TOP_CLEARANCE = "Below the top, at least", "Bajo el punto más alto, al menos";
    TOP_REACH = "Below the top, at most", "Bajo el punto más alto, a lo más";
    WIDE_BAY = "Widest bay for one column", "Espacio más ancho con una sola columna";
    BRICK_REACH = "Reach in an air space of brick", "Alcance en una cámara de aire de ladrillo";
    TIP = "Bit tip behind the finish, at most", "Punta de la broca detrás del acabado, a lo más";
    SPACING = "Between holes, at most", "Entre agujeros, a lo más";

    NO_SUCH_WALL = "This job has no such wall.", "Este trabajo no tiene esa pared.";
    TO_THE_JOB = "To the job", "Ir al trabajo";
    ALL_WALLS = "Walls of this job", "Paredes de este trabajo";
    ELEVATION = "Elevation", "Alzado";
    HOLES_TABLE = "All holes in a table", "Todos los agujeros en una tabla";
    HOLE = "Hole", "Agujero";
    COMPARTMENT = "Compartment", "Compartimiento";
    ACROSS = "Across", "Horizontal";
    UP = "Up", "Altura";
    WHY = "Why", "Por qué";
    FILLS = "Fills", "Qué llena";
    WHY_HERE = "Why here", "Por qué aquí";
    MAY_MOVE = "May move", "Se puede mover";
    CHOOSE_A_HOLE =
        "Touch a hole to see its readings and why it is there.",
        "Toque un agujero para ver sus lecturas y por qué está ahí.";
    NO_HOLES = "There is nothing to drill in this wall.", "En esta pared no hay nada que taladrar.";
    // unsure: "observaciones" for findings.
    FINDINGS = "Findings", "Observaciones";
    NONE_FOUND = "none", "ninguna";
    NO_FINDINGS = "Nothing to say against this plan.", "Nada en contra de este plan.";
    THE_WALL = "The wall as measured", "La pared como se midió";
    PANEL = "Hole, findings and measurements", "Agujero, observaciones y medidas";

    ADD = "Add", "Agregar";
    WHERE_TO_ADD =
        "Touch the wall where it belongs, or press Enter for the middle.",
        "Toque la pared donde va, o presione Enter para el centro.";
    SEVERAL = "Several", "Varios";
    SHOW = "Show", "Mostrar";
    SIZE_OF_DRAWING = "Size of the drawing", "Tamaño del dibujo";
    SMALLER = "Smaller", "Más chico";
    LARGER = "Larger", "Más grande";
    FIT = "Fit", "Ajustar";
    FIT_HINT = "Fit: the whole wall", "Ajustar: toda la pared";
    KEYS = "Keys", "Teclas";
    // unsure: the names on the keys of a Spanish keyboard of Latin America.
    KEYS_HINT =
        "Page Up and Page Down, or [ and ], go from thing to thing. Arrow keys move it by a step, with Shift by a foot or 100 mm; E takes one of its edges. Enter opens its measurements, Delete removes it, Ctrl D duplicates it, Escape lets go. With nothing picked the arrow keys go from hole to hole, and Enter takes the chosen one to move it. Plus, minus and 0 change the size; Space and a drag move the paper.",
        "Re Pág y Av Pág, o [ y ], van de un objeto a otro. Las flechas lo mueven un paso, con Mayús un pie o 100 mm; E toma uno de sus bordes. Enter abre sus medidas, Supr lo quita, Ctrl D lo duplica, Esc lo suelta. Sin nada elegido, las flechas van de agujero en agujero, y Enter toma el elegido para moverlo. Más, menos y 0 cambian el tamaño; la barra espaciadora y arrastrar mueven el papel.";
    PICKED = "What is picked", "Lo elegido";
    DUPLICATE = "Duplicate", "Duplicar";
    MEASUREMENTS = "Measurements", "Medidas";
    NO_ROOM = "there is no room for another one", "no hay lugar para otro";
    NOT_HERE = "not here", "aquí no";
    NOTHING_PICKED = "Nothing picked", "Nada elegido";
    UPPER_EDGE = "Upper edge of the wall", "Borde superior de la pared";
    LOWER_EDGE = "Lower edge of the wall", "Borde inferior de la pared";
    GIVE_TO_ROOM = "settings of the room", "ajustes del cuarto";
    GIVE_HINT =
        "Depth, lumber, finish, plates, studs, construction, side and datum; one step, to be undone.",
        "Fondo, madera, acabado, soleras, montantes, construcción, lado y origen; un solo paso, que se puede deshacer.";
    // unsure: "dictados" for called out.
    FOUND_STUDS = "Studs as called out", "Montantes dictados";
    FOUND_HINT =
        "Read the tape from the datum end: 14-1/2, 30 3/4, 47. Commas, new lines or two spaces between.",
        "Lea la cinta desde el extremo de origen: 14-1/2, 30 3/4, 47. Sepárelas con comas, renglones nuevos o dos espacios.";
    READ_AT = "The tape is read at", "La cinta se lee en";
    READINGS = "Readings", "Lecturas";
    READING_KEYS = "Keys for readings", "Teclas para las lecturas";
    NEXT_READING = "next", "siguiente";
    TAKE_KEY_BACK = "take the last key back", "borrar la última tecla";
    TAKE_REGULAR = "Take as a regular layout, corrected", "Tomar como distribución regular, corregida";
    TAKE_MEASURED = "Take one by one, as read", "Tomar uno por uno, como se leyeron";

    SIZE_AND_SHAPE = "Size and shape", "Medida y forma";
    // unsure: "montante" for a stud; crews also say "stud" or "paral".
    STUDS = "Studs", "Montantes";
    // unsure: "solera" for a plate.
    PLATES = "Plates", "Soleras";
    OPENINGS = "Openings", "Aberturas";
    BLOCKS_AND_BRACES = "Blocks and braces", "Bloques y riostras";
    CLOSING_THE_SPACE = "What closes the air space", "Lo que cierra la cámara de aire";
    IN_THE_WALL = "In the wall", "Dentro de la pared";
    ON_THE_WALL = "On the wall", "Sobre la pared";
    DEPTH_AND_FINISH = "Depth and finish", "Fondo y acabado";
    // unsure: "espacio" for a bay.
    BAYS = "Bays that differ", "Espacios distintos";
    MARKING = "Marking and construction", "Marcado y construcción";

    NAME = "Name", "Nombre";
    ROOM = "Room", "Cuarto";
    KIND = "Kind", "Tipo";
    WIDTH = "Width", "Ancho";
    HEIGHT = "Height", "Alto";
    TOP_EDGE = "Upper edge", "Borde superior";
    BOTTOM_EDGE = "Lower edge", "Borde inferior";
    HEIGHT_LEFT = "Height, left end", "Altura, extremo izquierdo";
    HEIGHT_RIGHT = "Height, right end", "Altura, extremo derecho";
    // unsure: "cumbrera" for the ridge of a gable wall.
    RIDGE_AT = "Ridge, across", "Cumbrera, horizontal";
    RIDGE_HEIGHT = "Ridge, height", "Cumbrera, altura";
    POINT = "point", "punto";
    ADD_POINT = "Add a point", "Agregar un punto";
    STUD = "stud", "montante";
    STUD_THICKNESS = "Stud thickness", "Espesor del montante";
    LAYOUT = "Layout", "Distribución";
    STUD_SPACING = "Spacing, on centre", "Separación, centro a centro";
    FIRST_STUD = "Centre of the first stud", "Centro del primer montante";
    ONE_SPACING = "one spacing", "una separación";
    LAYOUT_FROM = "Layout starts at", "La distribución empieza en";
    CENTRE = "Centre", "Centro";
    ADD_STUD = "Add a stud", "Agregar un montante";
    CORRECTIONS = "Studs found elsewhere", "Montantes hallados en otro lugar";
    ADD_CORRECTION = "Add a correction", "Agregar una corrección";
    STUD_NEAR = "Stud of the layout, near", "Montante de la distribución, cerca de";
    FOUND_AT = "Found at", "Hallado en";
    EXTRA_STUDS = "Studs beside the layout", "Montantes fuera de la distribución";
    ADD_EXTRA = "Add a stud or post", "Agregar un montante o poste";
    FACE_WIDTH = "Face width", "Ancho de la cara";
    BOTTOM_PLATES = "Bottom plates", "Soleras inferiores";
    TOP_PLATES = "Top plates", "Soleras superiores";
    PLATE_THICKNESS = "Plate thickness", "Espesor de la solera";
    FLOOR_COVERING =
        "Finished floor to underside of plate",
        "Del piso terminado a la cara inferior de la solera";
    // unsure: "cielo raso" or "plafón" for a ceiling.
    CEILING_DROP = "Ceiling to top of plate", "Del cielo raso a la cara superior de la solera";
    ADD_OPENING = "Add a door or window", "Agregar una puerta o ventana";
    LEFT = "Left edge", "Borde izquierdo";
    // unsure: "hueco" for a rough opening.
    ROUGH_WIDTH = "Rough width", "Ancho del hueco";
    ROUGH_HEIGHT = "Rough height", "Alto del hueco";
    // unsure: "antepecho" for a rough sill.
    SILL = "Top of the rough sill", "Cara superior del antepecho";
    SILL_THICKNESS = "Sill thickness", "Espesor del antepecho";
    // unsure: "montante principal" for a king stud, "montante de apoyo" for a trimmer.
    KINGS = "King studs, each side", "Montantes principales, cada lado";
    TRIMMERS = "Trimmers, each side", "Montantes de apoyo, cada lado";
    HEADER = "Header", "Cabezal";
    HEADER_DEPTH = "Header depth", "Peralte del cabezal";
    BESIDE_HEADER = "Space beside the header", "Espacio junto al cabezal";
    ADD_BLOCK = "Add blocking", "Agregar bloques";
    FIRST_BAY = "In the bay at", "En el espacio en";
    LAST_BAY = "To the bay at", "Hasta el espacio en";
    SAME_BAY = "that bay alone", "solo ese espacio";
    UNDERSIDE = "Lower edge", "Borde inferior";
    BLOCK_HEIGHT = "Height of the block", "Altura del bloque";
    ADD_BRACE = "Add a brace", "Agregar una riostra";
    ONE_END = "One end", "Un extremo";
    OTHER_END = "Other end", "Otro extremo";
    BRACE_WIDTH = "Width of the brace", "Ancho de la riostra";
    ADD_THING = "Add a thing in the wall", "Agregar un objeto dentro de la pared";
    SHAPE = "Shape", "Forma";
    DIAMETER = "Diameter", "Diámetro";
    KEEP_OFF = "Holes keep off", "Distancia a los agujeros";
    BY_KIND = "by kind", "según el tipo";
    EFFECT = "What it does to the bay", "Qué le hace al espacio";
    THING_DEPTH = "Reaches into the cavity", "Entra en la cavidad";
    ITS_OWN_DEPTH = "its own depth", "su propio fondo";
    ADD_ZONE = "Add a thing on the wall", "Agregar un objeto sobre la pared";
    CAVITY_DEPTH = "Cavity depth", "Fondo de la cavidad";
    FINISH = "Finish", "Acabado";
    FINISH_THICKNESS = "Finish thickness", "Espesor del acabado";
    BY_MATERIAL = "by material", "según el material";
    ADD_BAY = "Add a bay", "Agregar un espacio";
    IN_BAY = "The bay at", "El espacio en";
    OWN_DEPTH = "Its own depth", "Su propio fondo";
    AS_THE_WALL = "as the wall", "como la pared";
    FILLING = "Filling", "Relleno";
    DATUM = "Mark from", "Marcar desde";
    SIDE = "Drilled from", "Taladrar desde";
    CONSTRUCTION = "Construction", "Construcción";
    LEAF = "Leaf that is drilled", "Hoja que se taladra";
    COURSE = "Course with its joint", "Hilada con su junta";
    BRICK_LENGTH = "Brick with its joint", "Ladrillo con su junta";
    BRICK_HOLES = "Holes", "Agujeros";
    BED_JOINT = "A bed joint, up from the floor", "Una junta horizontal, desde el piso";
    PERPEND = "An upright joint, from the end of the readings", "Una junta vertical, desde el extremo de las lecturas";
    CENTRE_ACROSS = "Centre across", "Centro en horizontal";
    CENTRE_UP = "Centre up", "Altura del centro";

    PAPER = "Paper", "Papel";
    ORIENTATION = "Paper lies", "El papel va";
    WHICH_WALL = "Sheets of", "Hojas de";
    EVERY_WALL = "all walls", "todas las paredes";
    PRINT = "Print", "Imprimir";
    PRINT_HINT =
        "Print at 100 %, not fitted to the page; then measure the bar on each sheet.",
        "Imprima al 100 %, sin ajustar a la página; luego mida la barra de cada hoja.";
    DOWNLOAD_SVG = "Save as SVG", "Guardar como SVG";
    STOPPED =
        "These sheets are not printed yet: something on the wall stops the work.",
        "Estas hojas todavía no se imprimen: algo en la pared detiene el trabajo.";
    I_KNOW = "I know. My reason, printed on the sheet:", "Ya lo sé. Mi razón, impresa en la hoja:";
    NOTHING_TO_PRINT = "There is no wall to print.", "No hay pared que imprimir.";
}
