package soakbench.bench;

import java.util.List;

/**
 * What a page showed when its picture was taken.
 *
 * @param text all that could be read on it, whitespace evened out
 * @param parts what it is made of: its named elements, headings, labels, buttons, digits left out;
 *     in alphabetical order
 */
record Pictured(String text, List<String> parts) {
  /** Text that people see, and what assistive technology is told in its place. */
  private static final String TEXT =
      "document.body.innerText.replace(/\\s+/g, ' ') + ' ' + document.title";

  static final String PARTS =
      "(() => { const even = (t) => t.replace(/\\s+/g, ' ').replace(/[\\d.,:]*\\d/g, '#').trim();"
          + " const seen = (all) => [...document.querySelectorAll(all)].filter((e) =>"
          + " e.checkVisibility());"
          + " const words = seen('h1, h2, h3, th, button, label, summary, legend, dt, nav a')"
          + ".map((e) => `${e.localName} ${even(e.textContent)}`);"
          + " const named = seen('[id]').filter((e) => !e.id.startsWith('tracker-'))"
          + ".map((e) => `${e.localName}#${even(e.id)}`);"
          + " return [...new Set(words.concat(named))].sort(); })()";

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
