package soakbench.readiness;

import java.io.Serializable;
import java.util.Optional;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.model.Limits;
import soakbench.model.Spans;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationMixture;
import soakbench.readiness.estimator.TostInterval;

/**
 * Notices a tracker that will be too hot if left as it lies: where the lower bound of where its
 * warm-up levels off is over the limit, or it passes the limit within ten minutes. A bound on the
 * curve, never a straight line: a tracker that begins at 2 degC/min from 20 degC is on its way to
 * 31. By the temperatures alone, without a belief of where trackers are warmed to: what overheats
 * is what nobody expected. Not thread-safe.
 */
final class HeadingForHot implements Serializable {
  /** So far ahead it is looked, s. */
  private static final double AHEAD_S = 600;

  /**
   * A level that is reached later is not believed, s: where the room's heating swings, a curve is
   * straight for ten minutes and seems to go on for ever.
   */
  private static final double FORESEEN_S = 2700;

  /** Of the 90 % interval's lower end. */
  private static final double SURE = 0.95;

  /** Less is enough to say that it passes soon, and to go on saying either. */
  private static final double LIKELY = 0.8;

  private static final double HARDLY = 0.5;

  /** Evidence must last so long, s; two blocks of the fit window. */
  private static final double ENTER_S = 15;

  private static final double LEAVE_S = 30;

  /** A fit over less says little of where it levels off, s. */
  private static final double LEAST_SPAN_S = 110;

  /** Before there is a fit a body is taken to level off this soon, s: the careful side. */
  private static final double QUICK_BODY_S = 300;

  /** The chip's own warming is steep and soon over, s. */
  private static final double CHIP_OVER_S = 90;

  /** A level less sure than this is not shown as a number, degC. */
  private static final double LEAST_SURE_C = 5;

  private static final NormalDistribution NORMAL = new NormalDistribution();
  private static final double QUANTILE = 1.645;

  private final Limits limits;
  private RelaxationMixture weighed;
  private Finding found = Finding.NOTHING;
  private double evidenceS;
  private double noneS;
  private boolean heading;
  private Finding shown = Finding.NOTHING;

  HeadingForHot(Limits limits) {
    this.limits = limits;
  }

  /**
   * What is found at one moment.
   *
   * @param enough whether it is enough to say so
   * @param goesOn whether it is enough to go on saying so
   * @param levelC where it heads for, degC, give or take {@code halfC}
   * @param passesS when it passes the limit, s from now; NaN where that is not known
   */
  private record Finding(
      boolean enough, boolean goesOn, double levelC, double halfC, double passesS)
      implements Serializable {
    static final Finding NOTHING = new Finding(false, false, Double.NaN, Double.NaN, Double.NaN);

    Finding after(double seconds) {
      return new Finding(enough, goesOn, levelC, halfC, passesS - seconds);
    }
  }

  /**
   * Takes the next second.
   *
   * @param elapsedS since the one before
   * @param nowC temperature now, degC; NaN where unknown
   * @param rate of it over the last minute, degC/min; null where unknown
   * @param fit the fit over the warm-up's newest window
   * @param ageS age of the window's newest block, s
   * @param spanS length of the window, s
   */
  void accept(
      double tS,
      double elapsedS,
      double nowC,
      TostInterval rate,
      Optional<RelaxationMixture> fit,
      double ageS,
      double spanS) {
    Finding now = finding(tS, nowC, rate, fit, ageS, spanS);
    evidenceS = now.enough() ? evidenceS + elapsedS : 0;
    // While its temperature is not known it may go on as it did.
    boolean known = !Double.isNaN(nowC) && rate != null;
    noneS = now.goesOn() ? 0 : known ? noneS + elapsedS : noneS;
    if (evidenceS >= ENTER_S) {
      heading = true;
    } else if (noneS >= LEAVE_S) {
      heading = false;
    }
    shown = now.goesOn() ? now : known ? shown : shown.after(elapsedS);
  }

  private Finding finding(
      double tS,
      double nowC,
      TostInterval rate,
      Optional<RelaxationMixture> fit,
      double ageS,
      double spanS) {
    if (Double.isNaN(nowC) || rate == null || rate.value() <= 0 && nowC < limits.hotC()) {
      return Finding.NOTHING;
    }
    if (fit.isEmpty() || spanS < LEAST_SPAN_S) {
      return tS < CHIP_OVER_S ? Finding.NOTHING : soon(nowC, rate);
    }
    if (fit.get() != weighed) {
      weighed = fit.get();
      found = weighed(weighed, ageS);
    }
    return found;
  }

  /** By the slope alone, bent as that of a quick body. */
  private Finding soon(double nowC, TostInterval rate) {
    double bent = QUICK_BODY_S * -Math.expm1(-AHEAD_S / QUICK_BODY_S) / 60;
    double low = nowC + rate.low() * bent;
    double level = nowC + rate.value() * bent;
    boolean over = low > limits.hotC();
    double passes = (limits.hotC() - nowC) / rate.value() * 60;
    return new Finding(over, level > limits.hotC(), level, level - low, Math.max(0, passes));
  }

  private Finding weighed(RelaxationMixture p, double ageS) {
    Measured level = p.plateau();
    if (level.value() + 4 * level.se() < limits.hotC()) {
      return Finding.NOTHING;
    }
    double passes = passesS(p);
    double ends = passes <= FORESEEN_S ? probability(p, 0) : 0;
    double soon = probability(p, Double.NaN);
    boolean enough = ends >= SURE || soon >= LIKELY;
    boolean goesOn = ends >= LIKELY || soon >= HARDLY;
    return goesOn
        ? new Finding(enough, true, level.value(), QUANTILE * level.se(), passes - ageS)
        : Finding.NOTHING;
  }

  /**
   * How likely it is over the limit at its end (left 0) or ten minutes from now (left NaN: by each
   * time constant).
   */
  private double probability(RelaxationMixture p, double left) {
    double sum = 0;
    for (int k = 0; k < p.tau().length; k++) {
      double f = Double.isNaN(left) ? Math.exp(-AHEAD_S / p.tau()[k]) : left;
      double z = (p.mean(k, f) - limits.hotC()) / Math.sqrt(Math.max(1e-6, p.variance(k, f)));
      sum += p.weight()[k] * NORMAL.cumulativeProbability(z);
    }
    return sum;
  }

  /** When the mean curve passes the limit, s from the window's newest block; NaN where never. */
  private double passesS(RelaxationMixture p) {
    double low = 0;
    double high = 4 * 3600;
    if (p.present().value() + p.change(high).value() < limits.hotC()) {
      return Double.NaN;
    }
    double present = p.present().value();
    while (high - low > 1) {
      double mid = (low + high) / 2;
      if (present + p.change(mid).value() >= limits.hotC()) {
        high = mid;
      } else {
        low = mid;
      }
    }
    return high;
  }

  boolean heading() {
    return heading;
  }

  /**
   * What it heads for; null where that is harmless.
   *
   * @param nowUs the end of the second, microseconds since 1970
   */
  Heat heat(long nowUs) {
    if (!heading) {
      return null;
    }
    double passesS = Math.max(0, shown.passesS());
    Long passesUs = Double.isNaN(passesS) ? null : Long.valueOf(nowUs + Math.round(1e6 * passesS));
    String limit = NumberWords.degrees(limits.hotC());
    boolean vague = shown.halfC() > LEAST_SURE_C;
    String level =
        NumberWords.number(shown.levelC(), 1)
            + " ± "
            + NumberWords.number(Math.max(0.1, shown.halfC()), 1)
            + " °C";
    String when = passesUs == null ? "" : ", passes " + limit + " in " + Spans.inMinutes(passesS);
    String reason = "heading for " + (vague ? "more than " + limit : level) + when;
    return new Heat(Heat.Kind.HEADING_HOT, shown.levelC(), limits.hotC(), reason, passesUs);
  }
}
