package soakbench.thermal.cooling;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Notices that a warm tracker was uncovered and records how it cools: a fast fall of the
 * temperature after a level stretch, lying still. The record ends when the temperature rises again,
 * at motion, at a gap, or after five minutes. What can't be used is told with its reason. Fed
 * second by second; not thread-safe.
 */
public final class UncoveringDetector implements Serializable {
  static final int APART_S = 100;

  /** A covered tracker does not fall so much within 50 s. */
  private static final double FALL_C = 0.15;

  private static final int FALL_OVER_S = 50;
  private static final int MEAN_S = 10;
  private static final double LONGEST_GAP_S = 5;

  private final List<CoolingSecond> seconds = new ArrayList<>();
  private CoolingSecond lowest;
  private boolean falling;
  private int noticed;
  private boolean over;
  private double blindC;

  /**
   * Takes the next second.
   *
   * @param second with a temperature
   * @param stepC the thermometer's step where its noise does not carry it over, else 0, degC
   * @return what became of a fall that ended with this second
   */
  public Optional<CoolingFinding> accept(CoolingSecond second, double stepC) {
    blindC = stepC;
    CoolingSecond before = seconds.isEmpty() ? null : seconds.get(seconds.size() - 1);
    boolean gap = before != null && second.tS() - before.tS() > LONGEST_GAP_S;
    if (falling && gap) {
      return ended("nothing was heard for " + Math.round(second.tS() - before.tS()) + " s");
    }
    if (gap) {
      restart();
    }
    seconds.add(second);
    return falling ? follow(second) : look(second);
  }

  private Optional<CoolingFinding> look(CoolingSecond second) {
    while (second.tS() - seconds.get(0).tS() > CoolingLevel.LEVEL_S + APART_S) {
      seconds.remove(0);
    }
    if (over) {
      // The same fall goes on beyond what is recorded of it, or was cut off.
      over = !settled();
      return Optional.empty();
    }
    Double now = mean(0);
    Double then = mean(FALL_OVER_S);
    if (now != null && then != null && then - now > Math.max(FALL_C, 1.5 * blindC)) {
      falling = true;
      noticed = seconds.size() - 1;
      lowest = second;
    }
    return Optional.empty();
  }

  private boolean settled() {
    Double now = mean(0);
    Double then = mean(FALL_OVER_S);
    return now != null && then != null && Math.abs(then - now) < FALL_C / 2;
  }

  private Optional<CoolingFinding> follow(CoolingSecond second) {
    if (second.moved() && seconds.size() - 1 > noticed) {
      return ended("it was moved");
    }
    if (second.temperatureC() < lowest.temperatureC()) {
      lowest = second;
    }
    Double now = mean(0);
    Double then = mean(MEAN_S + 5);
    boolean rises = now != null && then != null && now - then > 0.03 + 1.5 * blindC;
    if (rises) {
      return ended("it was covered again");
    }
    double since = second.tS() - seconds.get(noticed).tS();
    return since >= CoolingShape.LONGEST_S ? ended(null) : Optional.empty();
  }

  /** Mean of the ten seconds that end {@code agoS} ago; null where too few are there. */
  private Double mean(int agoS) {
    double newestS = seconds.get(seconds.size() - 1).tS() - agoS;
    double sum = 0;
    int n = 0;
    for (int i = seconds.size() - 1; i >= 0; i--) {
      double t = seconds.get(i).tS();
      if (t <= newestS - MEAN_S) {
        break;
      }
      if (t <= newestS) {
        sum += seconds.get(i).temperatureC();
        n++;
      }
    }
    return n < MEAN_S / 2 ? null : sum / n;
  }

  private Optional<CoolingFinding> ended(String cut) {
    CoolingFinding finding = new CoolingShape(seconds, noticed, lowest, blindC).finding(cut);
    restart();
    over = true;
    return Optional.of(finding);
  }

  private void restart() {
    seconds.clear();
    falling = false;
    over = false;
    lowest = null;
  }
}
