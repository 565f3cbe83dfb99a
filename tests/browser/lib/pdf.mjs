// A printed page as it comes out: how many pages, and what stands on them.

import { extractText, getDocumentProxy } from "unpdf";

/** The text of each page of a PDF file, white space folded. */
export async function pagesOf(pdf) {
  const { text } = await extractText(await getDocumentProxy(new Uint8Array(pdf)));
  return text.map((page) => page.replace(/\s+/g, " ").trim());
}
