package soakbench.bench.pictures;

import java.util.List;

/** The pictures in the documentation: of which page, when, and what must be on it by then. */
enum Picture {
  BOARD("", 1320, 1366, 768, "Hot: Holly, slot S3", "Then: Alder, slot W1"),
  BOARD_PHONE("", 1320, 390, 844, "Hot: Holly, slot S3", "Then: Alder, slot W1"),
  ALARMS("alarms", 1320, 1366, 768, "Look at Holly."),
  HAND("", 2736, 1366, 768, "Alder", "face ", "Next: Maple"),
  TRACKER("tracker/MRY-07", 3000, 1366, 768, "Maple", "time constants", "Minutes to 5°", "°/s/√s"),
  REPORT("soak/{MRY-01}/report", 3000, 1366, 900, "Soak of Alder", "calibrated: keep"),
  SOAKS("soaks", 3000, 1366, 768, "Alder", "Linden");

  /** Address below the board's; a tracker's id in braces stands for its newest soak. */
  final String path;

  /** Seconds since the demo began. */
  final int atS;

  final int widthPx;
  final int heightPx;

  /** Waited for before it is taken. */
  final List<String> words;

  Picture(String path, int atS, int widthPx, int heightPx, String... words) {
    this.path = path;
    this.atS = atS;
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.words = List.of(words);
  }

  /** Its name in {@code docs}. */
  String file() {
    return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-') + ".png";
  }
}
