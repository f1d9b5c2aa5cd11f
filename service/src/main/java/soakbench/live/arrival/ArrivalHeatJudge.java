package soakbench.live.arrival;

import java.util.function.Supplier;
import soakbench.model.Limits;
import soakbench.readiness.Heat;
import soakbench.readiness.HeatJudge;
import soakbench.thermal.RecentBins;
import soakbench.thermal.Slope;

/**
 * Judges one tracker's heat on what arrives, reading by reading, by the same rule as soaks. Seconds
 * are those of the tracker's own elapsed time. Not thread-safe.
 */
final class ArrivalHeatJudge {
  private static final int MINUTE_S = 60;

  private final HeatJudge watch;
  private RecentBins seconds;
  private double secondS = Double.NaN;
  private double sumS;
  private double sumC;
  private int count;
  private Double riseCPerMin;

  ArrivalHeatJudge(Supplier<Limits> limits) {
    watch = new HeatJudge(limits);
  }

  /**
   * Takes a reading.
   *
   * @param axisS when, s since the first
   * @param elapsedS how long after the one before
   * @param arrivedS the same by its arrival
   */
  void take(double axisS, double elapsedS, double arrivedS, double temperatureC) {
    double second = Math.floor(axisS);
    if (second != secondS) {
      close();
      secondS = second;
    }
    sumS += axisS;
    sumC += temperatureC;
    count++;
    watch.reading(axisS, elapsedS, arrivedS, temperatureC, riseCPerMin);
  }

  private void close() {
    if (count == 0) {
      return;
    }
    // A flood of ids that are heard once or twice must cost little.
    seconds = seconds == null ? new RecentBins(MINUTE_S) : seconds;
    seconds.add(sumS / count, sumC / count);
    Slope slope = seconds.slope(0, MINUTE_S);
    riseCPerMin = slope == null ? null : slope.cPerMin();
    sumS = 0;
    sumC = 0;
    count = 0;
  }

  /** What is wrong; null where nothing is. */
  Heat heat() {
    return watch.heat();
  }
}
