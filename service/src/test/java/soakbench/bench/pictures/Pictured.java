package soakbench.bench.pictures;

import java.util.List;

/**
 * What a page showed when its picture was taken.
 *
 * @param text all that could be read on it, whitespace evened out
 * @param parts what the page is made of as it is sent: its named elements, headings, labels,
 *     buttons, styles and modules, and the pages that it leads to; in alphabetical order
 */
record Pictured(String text, List<String> parts) {
  /** Text that people see, and what assistive technology is told in its place. */
  private static final String TEXT =
      "document.body.innerText.replace(/\\s+/g, ' ') + ' ' + document.title";

  static final String PARTS =
      "fetch(location.href).then((a) => a.text()).then((html) => {"
          + " const sent = new DOMParser().parseFromString(html, 'text/html');"
          + " const of = (all, words) => [...sent.querySelectorAll(all)].map((e) =>"
          + " `${e.localName} ${words(e).replace(/\\s+/g, ' ').trim()}`);"
          + " return [...new Set([...of('[id]', (e) => '#' + e.id),"
          + " ...of('h1, h2, h3, th, button, label, summary, legend, dt, nav a',"
          + " (e) => e.textContent), ...of('link', (e) => e.getAttribute('href')),"
          + " ...of('script[src]', (e) => e.getAttribute('src')),"
          // The way round is the same for all and drawn by a module.
          + " ...[...document.querySelectorAll('#pages a')].map((e) => `a #${e.id}`)])].sort(); })";

  /** The page that is open now. */
  static Pictured now(soakbench.Chromium chromium) {
    String text = chromium.ask(TEXT);
    List<String> parts = chromium.ask(PARTS);
    return new Pictured(text, parts);
  }

  boolean shows(List<String> words) {
    return words.stream().allMatch(text::contains);
  }
}
