package soakbench.ingest.rackfile;

import soakbench.lines.PatternSpec;

/**
 * What is set about a source's lines.
 *
 * @param tracker whose the lines without an id are, or null
 * @param columns a CSV header known beforehand, or null
 * @param pattern a line form of the user's own, or null
 */
public record LineSettings(String tracker, String columns, PatternSpec pattern) {
  /** Lines that hold everything themselves. */
  public static final LineSettings NONE = new LineSettings(null, null, null);

  /** Only a line form of the user's own, or null. */
  public static LineSettings of(PatternSpec pattern) {
    return new LineSettings(null, null, pattern);
  }
}
