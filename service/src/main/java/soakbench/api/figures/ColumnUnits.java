package soakbench.api.figures;

import java.util.List;

/** The unit of a column in words, by the ending of its name. */
public final class ColumnUnits {
  private record Ending(String suffix, String unit) {}

  /** The longer first, where one ends with another. */
  private static final List<Ending> ENDINGS =
      List.of(
          new Ending("_dps_per_c_per_s", "deg/s per degC/s"),
          new Ending("_dps_per_sqrt_s", "deg/s per sqrt(s)"),
          new Ending("_deg_per_sqrt_h", "deg/sqrt(h)"),
          new Ending("_dps_per_c", "deg/s per degC"),
          new Ending("_c_per_min", "degC/min"),
          new Ending("_deg_per_min_in_use", "deg/min"),
          new Ending("deg_per_min", "deg/min"),
          new Ending("_deg_per_h", "deg/h"),
          new Ending("minutes_to_5_deg", "min"),
          new Ending("minutes_to_ready", "min"),
          new Ending("_dps", "deg/s"),
          new Ending("_hz", "Hz"),
          new Ending("_ms", "ms"),
          new Ending("_s", "s"),
          new Ending("_c", "degC"),
          new Ending("_g", "g"));

  private static final List<String> PARTS = List.of("_se", "_low", "_high");

  private ColumnUnits() {}

  /** Whether a column is the error or a limit of a figure beside it. */
  static boolean isPart(String column) {
    return PARTS.stream().anyMatch(column::endsWith);
  }

  /** The unit; empty for text, counts and what else has none. */
  public static String of(String column) {
    String name = column;
    for (String part : PARTS) {
      if (column.endsWith(part)) {
        name = column.substring(0, column.length() - part.length());
      }
    }
    String figure = name;
    return ENDINGS.stream()
        .filter(e -> figure.endsWith(e.suffix()))
        .findFirst()
        .map(Ending::unit)
        .orElse("");
  }
}
