package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;

/**
 * What was told of one run, second by second; seconds are those of the run.
 *
 * @param ready whether it stood as ready
 * @param shifts every ten seconds: low, high of x, y, z of the 180 s shift (90 %); null where none
 * @param forecasts every second: expected, earliest, latest, as seconds of the run; null for none
 * @param cpuS time that it took
 */
record Course(boolean[] ready, double[][] shifts, double[][] forecasts, double cpuS) {
  static final long BASE_S = 1_767_254_400L;

  /** What the judge says. */
  static Course judged(TrackedRun run) {
    boolean[] ready = new boolean[TrackedRun.SECONDS];
    double[][] shifts = new double[TrackedRun.SECONDS][];
    double[][] forecasts = new double[TrackedRun.SECONDS][];
    Judge judge = new Judge("t", "s", SoakTerms.of(Limits.DEFAULT));
    long from = cpu();
    for (int i = 0; i < run.bins.size(); i++) {
      Bin bin = run.bins.get(i);
      Bin next = i + 1 < run.bins.size() ? run.bins.get(i + 1) : null;
      if (i > 0 && bin.second() - run.bins.get(i - 1).second() > 10) {
        judge.silence();
      }
      Readiness r = judge.accept(bin, next);
      int s = (int) (bin.second() - BASE_S);
      int to = next == null ? s + 1 : (int) (next.second() - BASE_S);
      for (int k = s; k < Math.min(to, s + 11) && k + 1 < TrackedRun.SECONDS; k++) {
        ready[k + 1] = r.state() == State.READY;
      }
      if (s % 10 == 0 && r.figures().shiftDps().stream().allMatch(Estimate::known)) {
        double[] told = new double[6];
        for (int x = 0; x < 3; x++) {
          Estimate e = r.figures().shiftDps().get(x);
          told[2 * x] = e.value() - 1.645 * e.se();
          told[2 * x + 1] = e.value() + 1.645 * e.se();
        }
        shifts[s] = told;
      }
      if (r.readyAt() != null) {
        forecasts[s] =
            new double[] {
              r.readyAt().expectedUs() / 1e6 - BASE_S,
              r.readyAt().earliestUs() / 1e6 - BASE_S,
              r.readyAt().latestUs() / 1e6 - BASE_S
            };
      }
    }
    judge
        .fault()
        .ifPresent(
            f -> {
              throw f;
            });
    return new Course(ready, shifts, forecasts, (cpu() - from) / 1e9);
  }

  /** What a second costs in each of some hours, the run's seconds over and over, microseconds. */
  static double[] costUs(TrackedRun run, int hours) {
    Estimator estimator = new Estimator(Limits.DEFAULT, null);
    double[] out = new double[hours];
    for (int h = 0; h < hours; h++) {
      List<Bin> later = new ArrayList<>();
      for (Bin b : run.bins) {
        later.add(later(b, 3600L * h));
      }
      long from = cpu();
      for (Bin b : later) {
        estimator.add(b, Stillness.Answer.STILL, Doubts.NONE);
      }
      out[h] = (cpu() - from) / 1e3 / later.size();
    }
    return out;
  }

  private static Bin later(Bin b, long seconds) {
    return new Bin(
        b.tracker(),
        b.second() + seconds,
        b.firstUs() + seconds * 1_000_000,
        b.lastUs() + seconds * 1_000_000,
        b.boot(),
        b.temperatureC(),
        b.gyroDps(),
        b.accelG(),
        b.temperatureStepC(),
        b.gyroStepDps());
  }

  private static long cpu() {
    return java.lang.management.ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }
}
