/** The part of svg-to-pdfkit that is used here; its own types are a package of their own. */
declare module 'svg-to-pdfkit' {
  export default function drawSvg(
    document: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      readonly width: number;
      readonly height: number;
      /** Lengths of the picture are points. */
      readonly assumePt: boolean;
      /** The name of the font for some letters. */
      readonly fontCallback: (family: string, isBold: boolean, isItalic: boolean) => string;
      readonly warningCallback: (message: string) => void;
    },
  ): void;
}
