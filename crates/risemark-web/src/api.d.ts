/** A length in millimetres, or as text with its unit: `7' 10-1/2"`, `240 cm`. */
export type Length = number | string;

/** A place on the wall: across from the left end, up from the finished floor. */
export type Place = [Length, Length];

/** What a job file holds. */
export interface JobFile {
  format: "risemark-job";
  version: 1;
  job: Job;
}

/** A job as it was measured; what is left out was not measured, and is assumed. */
export interface Job {
  name: string;
  place?: string;
  date?: string;
  units?: "feet-inches" | "metric";
  year_built?: number;
  rules?: RuleSettings;
  foam?: FoamSettings;
  crew?: CrewSettings;
  walls: Wall[];
}

export interface RuleSettings {
  bit?: Length;
  angle?: number;
  marking_step?: Length;
  side_clearance?: Length;
  top_clearance?: Length;
  top_reach?: Length;
  wide_bay?: Length;
  tip?: Length;
  brick_reach?: Length;
}

/** What the user set or measured of the foam. */
export interface FoamSettings {
  test_shots?: TestShot[];
  scatter?: "even" | "growing";
  /** In percent. */
  confidence?: number;
  /** Seconds. */
  shortest_shot?: number;
  longest_shot?: number;
  pause?: number;
  lift_height?: Length;
  /** Board feet. */
  shot_volume?: number;
  kits?: { board_feet: number; price?: number; at_hand?: number }[];
  /** In percent. */
  usable?: number;
  usable_spread?: number;
  /** Degrees Celsius. */
  temperature?: number;
  /** In percent. */
  waste?: number;
  spare_nozzles?: number;
  work?: {
    people?: number;
    marking?: number;
    drilling?: number;
    patching?: number;
    cleaning?: number;
  };
  prices?: {
    currency?: string;
    nozzle?: number;
    tube?: number;
    jelly?: number;
    plug?: number;
    compound?: number;
    mask?: number;
    cartridges?: number;
    drop_cloth?: number;
    bit?: number;
    hour?: number;
    return_trip?: number;
  };
}

/** How the crew works, in seconds, and what is fixed of the order of shots. */
export interface CrewSettings {
  set_up?: number;
  /** Metres a second. */
  walking?: number;
  cart?: number;
  setting?: number;
  idle_limit?: number;
  nozzle_change?: number;
  nozzle_weight?: number;
  kit_change?: number;
  purge?: number;
  first?: HoleName;
  /** Ids. */
  walls?: string[];
  sequence?: HoleName[];
}

/** A hole by its wall and its number there. */
export interface HoleName {
  wall: string;
  hole: number;
}

/** One shot that was tried. */
export interface TestShot {
  seconds: number;
  waited?: number;
  rise: Length;
  space:
    | { kind: "bay"; wall: string; at: Length }
    | { kind: "box"; width: Length; depth: Length };
  nozzle?: number;
  temperature?: number;
}

/** One wall, seen from the side that is drilled. */
export interface Wall {
  id: string;
  name: string;
  room?: string;
  construction?: Construction;
  datum?: End;
  side?: "inside" | "outside";
  width: Length;
  top: Edge;
  bottom?: Edge;
  depth?: Length;
  /** The lumber it is presumed to be framed of; its sizes stand in for what was not measured. */
  lumber?: "rough-2x4" | "rough-2x6" | "early-2x4" | "early-2x6" | "dressed-2x4" | "dressed-2x6";
  finish?: Finish;
  plates?: Plates;
  studs?: Studs;
  openings?: Opening[];
  blocks?: Block[];
  braces?: Brace[];
  things?: Thing[];
  zones?: Zone[];
  bays?: BayException[];
  drilling?: Drilling;
}

/** Wishes for the holes of a wall, and what has become of them at the wall. */
export interface Drilling {
  rows_from?: "floor" | "ceiling";
  liked?: (
    | { kind: "height"; up: Length }
    | { kind: "band"; from: Length; to: Length }
    | { kind: "laps"; first: Length; spacing: Length }
  )[];
  barred?: { from: Length; to: Length }[];
  holes?: {
    state: "marked" | "set" | "drilled" | "patched" | "left-out";
    at: Place;
    mark?: number;
  }[];
  probed?: Place[];
}

export type End = "left" | "right";

export type Construction =
  | { kind: "platform-frame" }
  | { kind: "balloon-frame" }
  | {
      kind: "brick-air-space";
      leaf?: Length;
      course?: Length;
      brick?: Length;
      holes?: "anywhere" | "t-joints";
      bed?: Length;
      perpend?: Length;
    };

export type Edge =
  | { shape: "level"; height: Length }
  | { shape: "raked"; left: Length; right: Length }
  | { shape: "gable"; left: Length; ridge_at: Length; ridge: Length; right: Length }
  | { shape: "points"; points: Place[] };

export interface Finish {
  material?: "board" | "plaster" | "wood" | "siding" | "stucco" | "brick";
  thickness?: Length;
}

export interface Plates {
  bottom?: number;
  top?: number;
  thickness?: Length;
  floor_covering?: Length;
  ceiling_drop?: Length;
}

export interface Studs {
  thickness?: Length;
  layout?:
    | { kind: "regular"; spacing?: Length; first?: Length; from?: End }
    | { kind: "measured"; centres: Length[] };
  corrections?: ({ kind: "moved"; stud: Length; found: Length } | { kind: "missing"; stud: Length })[];
  extra?: { kind: "stud" | "corner-post" | "partition-channel"; centre: Length; width?: Length }[];
}

export interface Opening {
  kind: "door" | "window";
  name?: string;
  left: Length;
  width: Length;
  height: Length;
  sill?: Length;
  kings?: number;
  trimmers?: number;
  header?:
    | { kind: "full"; depth?: Length }
    | { kind: "shallow"; depth?: Length; beside?: Length }
    | { kind: "solid" };
  sill_thickness?: Length;
}

export interface Block {
  kind?: "full" | "flat";
  from: Length;
  to?: Length;
  up: Length;
  height?: Length;
}

export interface Brace {
  kind: "let-in" | "cut-in";
  from: Place;
  to: Place;
  width?: Length;
}

export interface Thing {
  kind: "electrical-box" | "cable" | "pipe" | "duct" | "vent" | "flue" | "medicine-cabinet";
  at:
    | { shape: "box"; left: Length; up: Length; width: Length; height: Length }
    | { shape: "round"; centre: Place; diameter: Length }
    | { shape: "run"; points: Place[]; diameter: Length };
  keep_off?: Length;
  effect?:
    | { kind: "takes-volume"; depth?: Length }
    | { kind: "closes-bay" }
    | { kind: "forbids-filling" };
}

export interface Zone {
  kind: "trim" | "baseboard" | "crown" | "counter" | "radiator" | "panel"
    | "damp-course" | "weep-holes";
  left: Length;
  up: Length;
  width: Length;
  height: Length;
  keep_off?: Length;
}

export interface BayException {
  at: Length;
  depth?: Length;
  skip?: "already-insulated" | "chase" | "knob-and-tube" | "left-out";
}

/** A place in millimetres. */
export type Millimeters = [number, number];

/** Everything the planner knows about a job. */
export interface PlanReport {
  format: "risemark-plan";
  version: number;
  rules: RuleReport;
  walls: WallReport[];
  foam: FoamReport;
  kits: KitsReport;
  /** Left out where it was not planned. */
  shots?: ShotsReport;
}

/** The order of the shots, and the rules by which it costs what it costs. */
export interface ShotsReport {
  order: ShotReport[];
  end_s: number;
  cost_s: number;
  /** No order costs less. */
  bound_s: number;
  within_percent: number;
  nozzles: number;
  kits: number;
  set_up_s: number;
  walk_s_per_m: number;
  cart_s: number;
  setting_s: number;
  idle_limit_s: number;
  nozzle_change_s: number;
  nozzle_weight_s: number;
  kit_lasts_s?: number | null;
  /** How long each of the next kits sprays, where they differ; all others last like the first. */
  next_kits_last_s: number[];
  kit_change_s?: number | null;
  findings: FindingReport[];
}

/** One shot. */
export interface ShotReport {
  wall: string;
  hole: string;
  mark: number;
  piece: number;
  start_s: number;
  duration_s: number;
  gap_s: number;
  nozzle: number;
  kit: number;
}

export interface RuleReport {
  bit_mm: number;
  angle_deg: number;
  marking_step_mm: number;
  side_clearance_mm: number;
  edge_distance_mm: number;
  top_clearance_mm: number;
  top_reach_mm: number;
  wide_bay_mm: number;
  tip_mm: number;
  brick_reach_mm: number;
  brick_top_reach_mm: number;
  spacing: { from_depth_mm: number; includes_from_depth: boolean; most_mm: number; preferred_mm: number }[];
  listed: { name: string; value: string; origin: string }[];
}

export interface WallReport {
  id: string;
  name: string;
  kind: string;
  datum: End;
  outline: Millimeters[];
  face: Millimeters[];
  members: { kind: string; polygon: Millimeters[]; depth_mm: number; closes: boolean }[];
  openings: { kind: "door" | "window"; name: string; polygon: Millimeters[] }[];
  compartments: CompartmentReport[];
  holes: HoleReport[];
  snap_lines_mm: number[];
  /** No plan with as few holes has fewer snap lines than this. */
  lines_bound: number;
  columns_mm: number[];
  slope: SlopeReport;
  assumed: string[];
  cautions: string[];
  findings: FindingReport[];
}

export interface CompartmentReport {
  id: string;
  polygon: Millimeters[];
  inner?: Millimeters[][];
  depth_mm: number;
  area_mm2: number;
  volume_mm3: number;
  clear_width_mm: number;
  lowest: Millimeters;
  highest: Millimeters;
  fillable: boolean;
  reason: string | null;
  probed: boolean;
}

export interface HoleReport {
  id: string;
  mark: number;
  state: "planned" | "marked" | "set" | "drilled" | "patched";
  compartment: string;
  x_mm: number;
  y_mm: number;
  across_mm: number;
  slope: SlopeReport;
  lift_mm3: number;
  lift_from_mm: number;
  lift_to_mm: number;
  seconds: number;
  seconds_range: [number, number] | null;
  shots_s: number[];
  why: string;
  may_move: string;
}

export interface SlopeReport {
  angle_deg: number;
  in_twelve: number;
  ellipse_width_mm: number;
  ellipse_height_mm: number;
  drop_behind_finish_mm: number;
  drop_at_far_face_mm: number;
  length_to_far_face_mm: number;
  travel_mm: number;
}

/** The flow of foam, and what all holes take. */
export interface FoamReport {
  flow_mm3_per_s: number;
  basis: "common practice" | "one test shot" | "test shots";
  scatter: "even" | "growing";
  n_shots: number;
  test_shots: { number: number; seconds: number; volume_mm3: number }[];
  standard_error_mm3_per_s: number | null;
  residual_deviation_mm3: number | null;
  r_squared: number | null;
  degrees_of_freedom: number | null;
  confidence_percent: number;
  volume_mm3: number;
  seconds: number;
  sprayed_range_mm3: [number, number] | null;
  pause_s: number;
  findings: FindingReport[];
}

/** What to buy. */
export interface KitsReport {
  with_waste_mm3: number;
  expected_share: number;
  choices: {
    asked_percent: number;
    kits: { board_feet: number; n_kits: number }[];
    nominal_board_feet: number;
    chance_percent: number;
    left_mm3: number;
    cost: number | null;
  }[];
  curve_size_board_feet: number;
  curve: ChanceReport[];
  at_hand: ChanceReport | null;
  worth_adding_board_feet: number | null;
}

export interface ChanceReport {
  n_kits: number;
  nominal_board_feet: number;
  chance_percent: number;
}

export interface FindingReport {
  severity: "stop" | "warning" | "note";
  code: string;
  place: string;
  message: string;
  hint: string;
}

/** What `plan` and `sheet` throw. */
export interface RisemarkError extends Error {
  findings: FindingReport[];
}

export interface SheetOptions {
  /** Letter when left out. */
  paper?: "letter" | "legal" | "tabloid" | "a4" | "a3";
  /** As it fits best when left out. */
  orientation?: "auto" | "portrait" | "landscape";
  /** Why the wall is worked on in spite of what stops it; printed on the sheet. */
  acknowledged?: string;
  /** English when left out. */
  language?: "en" | "es";
  /** Whether the sheets tell the turns of the shots, for which the whole job is planned; they do when left out. */
  order?: boolean;
}

/** One sheet, to be printed at 100 %. */
export interface Sheet {
  number: number;
  of: number;
  width_mm: number;
  height_mm: number;
  svg: string;
}

export interface PlanOptions {
  /** Whether the order of the shots is planned too, which takes up to half a second; it is when left out. */
  order?: boolean;
}

/** Plans a job; with the order of its shots, call it in a worker where a page may not wait. What plans is loaded with the first call. Rejects with a `RisemarkError` of everything that is wrong with the job. */
export function plan(job: JobFile, options?: PlanOptions): Promise<PlanReport>;

/** Draws the sheets of one wall. Rejects with a `RisemarkError`, also for what stops the work unless it is acknowledged. */
export function sheet(job: JobFile, wallId: string, options?: SheetOptions): Promise<Sheet[]>;
