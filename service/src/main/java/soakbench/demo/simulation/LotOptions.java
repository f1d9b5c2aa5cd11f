package soakbench.demo.simulation;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.model.Tracker;

/**
 * Which lots to simulate. All follow one law of bias against temperature; a lot's units scatter
 * about it.
 *
 * @param spreads each lot's scatter, as a factor on the usual one; above 0, at most 100
 * @param size how many units, soaks and so on
 * @param lines how they print
 * @param seed what everything is drawn from
 */
public record LotOptions(
    Map<String, Double> spreads, Size size, SimulateOptions.Lines lines, long seed) {
  private static final double MOST_SPREAD = 100;
  private static final int MOST = 1_000;

  /**
   * How much of it.
   *
   * @param units of each lot
   * @param soaks of each unit
   * @param days that they are spread over
   * @param benches that the units of each lot are spread over
   * @param start the first day's first soak
   * @param durationS how long a soak is, s
   */
  public record Size(int units, int soaks, int days, int benches, Instant start, double durationS) {
    /**
     * @throws IllegalArgumentException if a number is outside what is allowed
     */
    public Size {
      require("units", units);
      require("soaks", soaks);
      require("days", days);
      require("benches", benches);
      if (!(durationS >= 60 && durationS <= 10_000)) {
        throw new IllegalArgumentException(
            "a soak of " + durationS + " s is outside 60 to 10000; give it in seconds");
      }
      if ((soaks - 1) / days > MOST_SOAKS_A_DAY - 1) {
        throw new IllegalArgumentException(
            soaks + " soaks in " + days + " days are more than 7 a day; give more days");
      }
    }

    private static void require(String what, int count) {
      if (count < 1 || count > MOST) {
        throw new IllegalArgumentException(
            count + " " + what + " is outside 1 to " + MOST + "; give a whole number");
      }
    }
  }

  /** Three hours apart, so that each begins cold. */
  static final int MOST_SOAKS_A_DAY = 7;

  public LotOptions {
    spreads = new LinkedHashMap<>(spreads);
    if (spreads.isEmpty()) {
      throw new IllegalArgumentException("no lot is given; name one, such as Barley-2=1");
    }
    spreads.forEach(
        (lot, spread) -> {
          if (!Tracker.isId(lot)) {
            throw new IllegalArgumentException(
                "lot \"" + lot + "\" names files and units, so it must be " + Tracker.ID_RULE);
          }
          if (!(spread > 0 && spread <= MOST_SPREAD)) {
            throw new IllegalArgumentException(
                "lot " + lot + ": a spread of " + spread + " is not above 0 and at most 100");
          }
        });
  }
}
