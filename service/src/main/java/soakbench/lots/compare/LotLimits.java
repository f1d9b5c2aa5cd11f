package soakbench.lots.compare;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.model.Limits;
import soakbench.readiness.CalibrationCheck;

/**
 * What a unit's figures may be: by the limits for screening, else by what the limits in force come
 * to.
 *
 * @param inForce what counts as ready
 * @param screening by figure
 */
public record LotLimits(Limits inForce, Map<String, ScreeningLimit> screening) {
  public LotLimits {
    screening = Map.copyOf(screening);
  }

  /** The limits in force with limits for screening, each figure at most once. */
  public static LotLimits of(Limits inForce, List<ScreeningLimit> screening) {
    return new LotLimits(
        inForce, screening.stream().collect(Collectors.toMap(ScreeningLimit::metric, l -> l)));
  }

  /** What a unit's figure may be; null where nothing says so. */
  public MetricLimit of(Metric metric) {
    ScreeningLimit set = screening.get(metric.name());
    if (set != null && set.rejectOver() != null) {
      return about(metric, set.rejectOver());
    }
    return switch (stem(metric)) {
      case "tempco" -> about(metric, steepest());
      case "deg_per_min" ->
          inForce.nearUseLimitDegPerMin() == null
              ? null
              : about(metric, inForce.nearUseLimitDegPerMin());
      case "check" -> about(metric, CalibrationCheck.LIMIT_DEG_PER_MIN);
      case "plateau_c" -> new MetricLimit(inForce.bandLowC(), inForce.bandHighC());
      default -> null;
    };
  }

  private static String stem(Metric metric) {
    String name = metric.name();
    return name.contains("tempco") ? "tempco" : name.startsWith("check_") ? "check" : name;
  }

  private static MetricLimit about(Metric metric, double size) {
    return new MetricLimit(metric.kind() == Metric.Kind.SIGNED ? -size : null, size);
  }

  /**
   * The coefficient from which on a settled unit may shift too far, deg/s per degC: its temperature
   * may still change at the allowed rate for as long as a calibration takes.
   */
  public double steepest() {
    double changeC = inForce.temperatureRateLimitCPerMin() * inForce.calibrationS() / 60;
    return inForce.shiftLimitDps() / changeC;
  }
}
