package soakbench.numerics.allan;

import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import soakbench.numerics.Noises;

/**
 * Overlapping Allan deviation at octaves, beside a direct double loop over a tenth of the readings
 * that averages anew for each difference, at averaging factors up to 512 only. {@code mvn -B test
 * -Pbench -Dtest=FigureCostTest} runs it.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 2, time = 2)
@Measurement(iterations = 4, time = 2)
public class AllanBenchmark {
  static final int MOST_DIRECT = 512;

  @Param({"450000", "900000", "1800000", "3600000"})
  int readings;

  private double[] rates;

  @Setup
  public void noise() {
    rates = Noises.white(readings, 0.01, 12);
  }

  @Benchmark
  public List<AllanDeviation.Point> octaves() {
    List<double[]> pieces = List.of(rates);
    return AllanDeviation.overlapping(pieces, AllanDeviation.octaves(pieces));
  }

  @Benchmark
  public double directTenth() {
    return direct(Arrays.copyOf(rates, readings / 10));
  }

  /** The sum of the deviations. */
  static double direct(double[] rates) {
    double digest = 0;
    for (int m = 1; m <= MOST_DIRECT; m *= 2) {
      double sum = 0;
      for (int i = 0; i + 2 * m <= rates.length; i++) {
        double before = 0;
        double after = 0;
        for (int k = 0; k < m; k++) {
          before += rates[i + k];
          after += rates[i + m + k];
        }
        sum += (after - before) * (after - before);
      }
      digest += Math.sqrt(sum / (2.0 * m * m * (rates.length - 2 * m + 1)));
    }
    return digest;
  }
}
