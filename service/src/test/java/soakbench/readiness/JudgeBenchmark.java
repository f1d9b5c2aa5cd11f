package soakbench.readiness;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;

/**
 * What judging one second of one tracker costs, ten minutes and ten hours into its soak, left alone
 * and turned over every two minutes. {@code mvn -B test -Pbench} runs it.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 1)
@Measurement(iterations = 3)
public class JudgeBenchmark {
  static final int BINS = 600;

  private static final long START_S = 1_772_352_000;

  @Param({"600", "36000"})
  int ageS;

  @Param({"0", "120"})
  int turnedEveryS;

  private Judge judge;
  private SplittableRandom random;
  private final Bin[] ahead = new Bin[BINS];

  /** Whoever is measured first must not pay for the compiler. */
  @Setup(Level.Trial)
  public void warmUp() {
    begin(20_000);
  }

  /** A soak that has gone on for so long, and the seconds that come next. */
  @Setup(Level.Invocation)
  public void soak() {
    begin(ageS);
    for (int s = 0; s < BINS; s++) {
      ahead[s] = bin(ageS + s);
    }
  }

  private void begin(int seconds) {
    random = new SplittableRandom(20);
    judge = new Judge("T-0412", "T-0412@bench", SoakTerms.of(Limits.DEFAULT));
    for (int s = 0; s < seconds; s++) {
      judge.accept(bin(s), null);
    }
  }

  @Benchmark
  @OperationsPerInvocation(BINS)
  public Readiness judgesASecond() {
    Readiness newest = null;
    for (Bin bin : ahead) {
      newest = judge.accept(bin, null);
    }
    // A judge that has given up is quick.
    judge
        .fault()
        .ifPresent(
            fault -> {
              throw fault;
            });
    return newest;
  }

  private Bin bin(int s) {
    boolean turning = turnedEveryS > 0 && s % turnedEveryS < 5;
    int pose = turnedEveryS > 0 ? s / turnedEveryS : 0;
    double celsius = 31 - 10 * Math.exp(-s / 900.0) + 0.01 * random.nextGaussian();
    double spread = turning ? 20 : 0.02;
    Channel[] gyro = new Channel[3];
    for (int axis = 0; axis < 3; axis++) {
      double bias = 0.1 * axis + 0.02 * (celsius - 31) + 0.004 * (pose % 3);
      double sd = spread * (1 + 0.1 * random.nextGaussian());
      gyro[axis] = new Channel(50, bias + spread / 7 * random.nextGaussian(), sd);
    }
    Channel[] accel = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long us = (START_S + s) * 1_000_000;
    Channel temperature = new Channel(50, celsius, 0.01);
    return new Bin(
        "T-0412", START_S + s, us, us + 980_000, 0, temperature, gyro, accel, 0.001, 0.0001);
  }
}
