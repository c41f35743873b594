import PDFDocument from "pdfkit";
import { type Face, fontFile } from "./fonts";
import { type Colour, PALETTE } from "./palette";
import { wrap } from "./wrap";

type Structure = PDFKit.PDFStructureElement;

/** Points. A4, with all content high enough to be on US Letter too, when it is printed at full size. */
export const PAGE = {
  width: 595.28,
  height: 841.89,
  left: 51,
  right: 544,
  top: 48,
  bottom: 744,
} as const;
export const CONTENT_WIDTH = PAGE.right - PAGE.left;

export type TextStyle = { readonly face: Face; readonly size: number; readonly colour: Colour };

/** The few ways in which text is set; line height is 1.35 of the size. */
export const STYLES = {
  shop: { face: "bold", size: 15, colour: PALETTE.magnetite },
  title: { face: "bold", size: 25, colour: PALETTE.magnetite },
  heading: { face: "bold", size: 11.5, colour: PALETTE.ironOxide },
  body: { face: "regular", size: 9.5, colour: PALETTE.magnetite },
  strong: { face: "bold", size: 9.5, colour: PALETTE.magnetite },
  total: { face: "bold", size: 14, colour: PALETTE.magnetite },
  label: { face: "regular", size: 7.8, colour: PALETTE.zinc },
  hours: { face: "regular", size: 9, colour: PALETTE.bath },
  caution: { face: "regular", size: 9, colour: PALETTE.brass },
  link: { face: "regular", size: 9, colour: PALETTE.bath },
  small: { face: "regular", size: 8, colour: PALETTE.zinc },
} as const satisfies Record<string, TextStyle>;

const LINE_HEIGHT = 1.35;
export const lineHeight = (style: TextStyle): number => style.size * LINE_HEIGHT;

export type SheetInfo = {
  readonly title: string;
  readonly author: string;
  readonly locale: string;
  readonly madeAt: Date;
};

/**
 * Pages filled from top to bottom. Everything a person reads is tagged content; rules, panels and page numbers are
 * marked as decoration, so that a screen reader passes over them.
 */
export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  readonly root: Structure;
  /** where the next thing goes, points from the top of the page */
  y: number = PAGE.top;
  /** height kept free at the top of each further page, for what is repeated there */
  private repeatHeight = 0;
  private readonly repeats: { readonly page: number; readonly draw: () => void }[] = [];
  private repeated: (() => void) | null = null;
  /** of one letter at a size of 1 point */
  private readonly letterWidths = {
    regular: new Map<string, number>(),
    bold: new Map<string, number>(),
  };
  private readonly chunks: Uint8Array[] = [];
  private readonly ended: Promise<void>;
  private pages = 1;

  constructor(info: SheetInfo) {
    this.doc = new PDFDocument({
      size: "A4",
      margin: 0,
      pdfVersion: "1.7",
      tagged: true,
      displayTitle: true,
      lang: info.locale,
      bufferPages: true,
      font: fontFile("regular"),
      info: {
        Title: info.title,
        Author: info.author,
        CreationDate: info.madeAt,
        ModDate: info.madeAt,
      },
    });
    for (const face of ["regular", "bold"] as const) this.doc.registerFont(face, fontFile(face));
    this.doc.on("data", (chunk: Uint8Array) => this.chunks.push(chunk));
    this.ended = new Promise((resolve, reject) => {
      this.doc.on("end", resolve);
      this.doc.on("error", reject);
    });
    this.root = this.doc.struct("Document");
    this.doc.addStructure(this.root);
  }

  /**
   * Width of a piece of text, points: its letters one by one, each laid out once. Kerning is left out; it moves lines
   * closer, by less than a point.
   */
  measure(style: TextStyle): (text: string) => number {
    const widths = this.letterWidths[style.face];
    return (text) => {
      let width = 0;
      for (const letter of text) {
        const known = widths.get(letter);
        const letterWidth = known ?? this.doc.font(style.face).fontSize(1).widthOfString(letter);
        if (known === undefined) widths.set(letter, letterWidth);
        width += letterWidth;
      }
      return width * style.size;
    };
  }

  lines(text: string, style: TextStyle, width: number): string[] {
    return wrap(text, width, this.measure(style));
  }

  /** Goes to a new page if less than `height` is left on this one; never for more than a page. */
  room(height: number): void {
    const most = PAGE.bottom - PAGE.top - this.repeatHeight;
    if (this.y + Math.min(height, most) > PAGE.bottom) this.newPage();
  }

  newPage(): void {
    // Closes the open tags on this page and opens them again on the next.
    this.doc.continueOnNewPage({ size: "A4", margin: 0 });
    this.pages += 1;
    this.y = PAGE.top;
    if (this.repeated) {
      this.repeats.push({ page: this.pages - 1, draw: this.repeated });
      this.y += this.repeatHeight;
    }
  }

  /** What is drawn again at the top of each page that starts during `run`, and how high it is. */
  repeating(height: number, draw: () => void, run: () => void): void {
    this.repeatHeight = height;
    this.repeated = draw;
    run();
    this.repeatHeight = 0;
    this.repeated = null;
  }

  /** Adds a tagged element; what `run` draws is its content. */
  tagged(parent: Structure, type: string, run: () => void, alt?: string): void {
    const element = this.doc.struct(type, alt === undefined ? {} : { alt }, [run]);
    parent.add(element);
  }

  /** A tagged head of a table's column or row, saying which, so that a reader names it with each cell. */
  tableHead(parent: Structure, scope: "Column" | "Row", run: () => void): void {
    // The package knows the option, its types do not yet.
    const options: PDFKit.Mixins.StructureElementOptions & { readonly scope: string } = { scope };
    parent.add(this.doc.struct("TH", options, [run]));
  }

  /** A tagged element that holds others. */
  group(parent: Structure, type: string): Structure {
    const element = this.doc.struct(type);
    parent.add(element);
    return element;
  }

  /** Draws what only decorates. */
  decoration(draw: () => void): void {
    this.doc.markContent("Artifact", { type: "Layout" });
    draw();
    this.doc.endMarkedContent();
  }

  /** One line of text at a place, without moving on. */
  print(text: string, x: number, y: number, style: TextStyle): void {
    this.doc.font(style.face).fontSize(style.size).fillColor(style.colour);
    this.doc.text(text, x, y + style.size * 0.12, { lineBreak: false });
  }

  /** The same, ending at `right`; made smaller where it is wider than `width`. */
  printRight(text: string, right: number, y: number, style: TextStyle, width: number): void {
    const natural = this.measure(style)(text);
    const fitted = natural > width ? { ...style, size: (style.size * width) / natural } : style;
    const drop = lineHeight(style) * 0.5 - lineHeight(fitted) * 0.5;
    this.print(text, right - this.measure(fitted)(text), y + drop, fitted);
  }

  /** Lines one below the other, going on over pages. */
  printLines(lines: readonly string[], x: number, style: TextStyle): void {
    for (const line of lines) {
      this.room(lineHeight(style));
      this.print(line, x, this.y, style);
      this.y += lineHeight(style);
    }
  }

  /** A tagged paragraph over the full width, or from `x` on. */
  paragraph(parent: Structure, text: string, style: TextStyle, x: number = PAGE.left): void {
    const lines = this.lines(text, style, PAGE.right - x);
    this.room(Math.min(lines.length, 2) * lineHeight(style));
    this.tagged(parent, "P", () => this.printLines(lines, x, style));
  }

  /** A heading that stays with at least `follow` points of what comes after it. */
  heading(parent: Structure, text: string, follow = 40): void {
    this.y += 14;
    this.room(lineHeight(STYLES.heading) + follow);
    this.tagged(parent, "H2", () => this.printLines([text], PAGE.left, STYLES.heading));
    this.y += 3;
  }

  rule(y: number, colour: Colour = PALETTE.hairline, width = 0.6, from: number = PAGE.left): void {
    this.decoration(() =>
      this.doc.moveTo(from, y).lineTo(PAGE.right, y).lineWidth(width).strokeColor(colour).stroke(),
    );
  }

  panel(y: number, height: number, edge?: Colour): void {
    this.decoration(() => {
      this.doc.rect(PAGE.left, y, CONTENT_WIDTH, height).fill(PALETTE.soda);
      if (edge) this.doc.rect(PAGE.left, y, 3, height).fill(edge);
    });
  }

  /** Draws what repeats and the foot of every page, and gives the file. */
  async finish(foot?: (page: number, pages: number) => void): Promise<Uint8Array<ArrayBuffer>> {
    for (const { page, draw } of this.repeats) {
      this.doc.switchToPage(page);
      this.pageDecoration(draw);
    }
    for (let page = 0; page < this.pages && foot; page += 1) {
      this.doc.switchToPage(page);
      this.pageDecoration(() => foot(page + 1, this.pages));
    }
    this.root.end();
    this.doc.end();
    await this.ended;
    return new Uint8Array(Buffer.concat(this.chunks));
  }

  private pageDecoration(draw: () => void): void {
    this.doc.markContent("Artifact", { type: "Pagination" });
    draw();
    this.doc.endMarkedContent();
  }
}
