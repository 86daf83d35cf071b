/** Options of answers, figures and reports; whatever is left out is as the program has it. */
export interface Options {
  /** Name of the load case. */
  case?: string;
  /** The number of a free motion, from "1", or "escape". */
  motion?: string;
  /** Colours: a screen's, or white paper, or black and greys. */
  theme?: "hall" | "daylight" | "stark" | "white" | "print";
  /** Azimuth and elevation in degrees. */
  view?: [azimuth: number, elevation: number];
  /** Parts of the figure with commas between, as `sixhold figure --show` takes them. */
  parts?: string;
  /** Width of the figure in millimetres, 40 to 1200. */
  width?: number;
  /** Greatest height of what is drawn without names and axes, mm. */
  tallest?: number;
  /** Significant digits, 1 to 15. */
  digits?: number;
  /** The stage that the lesson has come to. */
  stage?: string;
  /** Whether the answer is held back until it has been guessed: for addresses. */
  guess?: boolean;
}

/** One thing that is wrong, or probably not meant. */
export interface Problem {
  line: number | null;
  column: number | null;
  message: string;
  expected: string | null;
  hint: string | null;
}

/** Letters that are written alike: `b` for the verdict, `i` for symbols, `sub` and `sup`; the outermost tag first. */
export interface Piece {
  text: string;
  tags: ("b" | "i" | "sub" | "sup")[];
}

/** The sentence, the four numbers, and what there is to choose. */
export interface Answer {
  title: string;
  planar: boolean;
  held: boolean;
  verdict: string;
  reason: string;
  sentence: Piece[];
  numbers: { name: string; symbol: Piece[]; value: number | null }[];
  cases: string[];
  motions: { key: string; words: string }[];
  lesson: string[];
  view: [number, number] | null;
  warnings: Problem[];
}

export class SceneError extends Error {
  problems: Problem[];
  leftOut: number;
}

/** The whole diagnosis, as `sixhold check --format json` prints it and `sixhold schema` describes it. */
export function check(text: string): Promise<Record<string, unknown>>;
export function answer(text: string, options?: Options): Promise<Answer>;
/** A figure as SVG. */
export function figure(text: string, options?: Options): Promise<string>;
/** One swing of the motion, each frame an SVG; none where there is no motion. */
export function frames(text: string, options?: Options): Promise<string[]>;
/** The motion as an animated GIF; empty where there is no motion. */
export function film(text: string, options?: Options): Promise<Uint8Array>;
/** The report as an HTML page. */
export function report(text: string, options?: Options): Promise<string>;
export function reportPdf(text: string, options?: Options): Promise<Uint8Array>;
/** The lesson as an HTML page of slides. */
export function lesson(text: string, options?: Options): Promise<string>;
/** The address of the scene at a page. */
export function address(text: string, page: string, options?: Options): Promise<string>;
/** Options of an exercise sheet; whatever is left out is as the program has it. */
export interface SheetOptions {
  topic?: "mixed" | "improper" | "partial" | "redundant" | "determinate" | "reactions" | "near-miss";
  /** How many problems, 1 to 50. */
  count?: number;
  /** Equal seeds give equal sheets. */
  seed?: number;
  /** Without it the problems begin easily and end hard. */
  level?: "easy" | "middle" | "hard";
  /** Feet and pounds instead of metres and newtons. */
  us?: boolean;
  course?: string;
  /** Marks for each problem, 1 to 100. */
  marks?: number;
  paper?: "a4" | "letter";
}

/** A file of an exercise sheet: the problems, the answers alone, the worked key, or questions for a learning platform. */
export function sheet(options: SheetOptions, file:
  "sheet.html" | "sheet.pdf" | "answers.html" | "answers.pdf" | "key.html" | "key.pdf" | "moodle.xml" | "qti.zip"): Promise<Uint8Array>;
/** The built-in scenes. */
export function scenes(): Promise<{ name: string; title: string }[]>;
/** The text of a built-in scene. */
export function builtIn(name: string): Promise<string>;
/** The scene of an address, and how it is to be shown. */
export function read(address: string): Promise<{ text: string; options: Options }>;
