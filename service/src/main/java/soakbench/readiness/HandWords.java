package soakbench.readiness;

import java.util.List;
import java.util.stream.Collectors;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.drift.calibration.HandlingProgress.Face;

/** A handling while it goes on, in words for who holds the tracker. */
public final class HandWords {
  private HandWords() {}

  /**
   * How it stands in one line: {@code face 4 of 6, still 3 s, 31.2 °C, 48 s in the open of about
   * 70}.
   *
   * @param atMostS how long it may lie open, s; null where nothing is known
   */
  public static String of(HandlingProgress p, Double atMostS) {
    String where = p.face() > 0 ? "face " + p.face() + " of " + HandlingProgress.FACES : still(p);
    String stillFor = p.stillS() > 0 ? ", still " + p.stillS() + " s" : "";
    String warm =
        Double.isNaN(p.temperatureC()) ? "" : ", " + NumberWords.degrees(p.temperatureC());
    String of = atMostS == null ? "" : " of about " + (long) Math.floor(atMostS);
    return where + stillFor + warm + ", " + p.openS() + " s in the open" + of;
  }

  private static String still(HandlingProgress p) {
    return p.stillS() == 0 ? "moving" : p.faces().isEmpty() ? "lying" : "askew";
  }

  /** At which faces it was switched off and on; empty where it was not. */
  public static String offAndOn(HandlingProgress p) {
    return p.offAndOn().isEmpty()
        ? ""
        : "off and on "
            + p.offAndOn().stream()
                .distinct()
                .map(face -> face == 0 ? "before face 1" : "at face " + face)
                .collect(Collectors.joining(", "));
  }

  /** Which faces were held too short or more than once; empty where none was. */
  public static String note(HandlingProgress p) {
    List<Face> away = p.faces().stream().filter(f -> f.number() != p.face()).toList();
    String tooShort = numbers(away.stream().filter(f -> !f.done()).toList());
    String twice = numbers(p.faces().stream().filter(f -> f.times() > 1).toList());
    String first = tooShort.isEmpty() ? "" : "held too short, once more: face " + tooShort;
    String second = twice.isEmpty() ? "" : "held more than once: face " + twice;
    return first.isEmpty() || second.isEmpty() ? first + second : first + "; " + second;
  }

  private static String numbers(List<Face> faces) {
    return faces.stream().map(HandWords::named).collect(Collectors.joining(", "));
  }

  /** {@code 2 (+x up)}. */
  private static String named(Face face) {
    return face.up() == null
        ? String.valueOf(face.number())
        : face.number() + " (" + face.up().replace('-', '−') + " up)";
  }
}
