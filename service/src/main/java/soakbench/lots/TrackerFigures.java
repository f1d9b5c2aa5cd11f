package soakbench.lots;

import java.util.Comparator;
import java.util.List;
import soakbench.model.Estimate;
import soakbench.model.Soak;

/**
 * A unit's figures from all its soaks: several soaks of one unit are one unit.
 *
 * @param tracker its id
 * @param soaks which soaks it had
 * @param operatingC temperature at which bias and coefficient are given, degC; null without a curve
 * @param extrapolated whether no soak covered that temperature
 * @param warmUp how it warms up
 * @param sampleRateHz of the newest soak; null where not known
 * @param axes x, y, z
 * @param use what a calibration at the newest temperature costs in use, of the newest soak
 */
public record TrackerFigures(
    String tracker,
    Soaks soaks,
    Double operatingC,
    boolean extrapolated,
    WarmUp warmUp,
    Double sampleRateHz,
    List<AxisSummary> axes,
    Use use) {

  /**
   * A unit's soaks.
   *
   * @param count how many it had: those used and those not used
   * @param used how many of them gave a bias curve at the temperature
   * @param leftOut how many people left out of the figures
   * @param notUsed all that gave none, each with its reason
   * @param newest its newest soak that counts; where none does, its newest
   */
  public record Soaks(int count, int used, int leftOut, List<NotUsed> notUsed, Soak newest) {}

  /**
   * A soak that says nothing about the bias at the temperature.
   *
   * @param soak its id
   * @param reason why
   */
  public record NotUsed(String soak, String reason) {}

  /**
   * How a unit warms up.
   *
   * @param plateauC of the newest soak that shows one, degC
   * @param timeConstantS of the body, s, from all soaks that show it; where none does, of the
   *     newest
   * @param timeConstantPriorOnly whether it is what is believed of any body: no soak shows it
   */
  public record WarmUp(Estimate plateauC, Estimate timeConstantS, boolean timeConstantPriorOnly) {}

  /**
   * What a calibration costs in use.
   *
   * @param useC temperature in use, degC
   * @param degPerMin heading error rate there, deg/min
   * @param minutesTo5Deg minutes until five degrees of error
   */
  public record Use(double useC, Estimate degPerMin, Estimate minutesTo5Deg) {}

  /** The coefficient of greatest magnitude among the three axes, deg/s per degC. */
  public Estimate greatestTempcoDpsPerC() {
    return axes.stream()
        .map(axis -> axis.bias().tempcoDpsPerC())
        .filter(Estimate::known)
        .max(Comparator.comparingDouble(e -> Math.abs(e.value())))
        .orElse(axes.get(0).bias().tempcoDpsPerC());
  }

  /** The same with its newest soak as that stands now. */
  public TrackerFigures withNewest(Soak newest) {
    Soaks now = new Soaks(soaks.count, soaks.used, soaks.leftOut, soaks.notUsed, newest);
    return new TrackerFigures(
        tracker, now, operatingC, extrapolated, warmUp, sampleRateHz, axes, use);
  }
}
