package soakbench.drift;

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
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAnalysis;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.drift.noise.NoiseAnalysis;
import soakbench.live.deriving.SoakDrift;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;
import soakbench.numerics.PolynomialFit;

/**
 * What the drift's figures of one soak cost, alone and with its warm-up curve, beside an ordinary
 * least-squares cubic of the same seconds by the library, one for each axis. {@code mvn -B test
 * -Pbench -Dtest=FigureCostTest} runs it.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 1)
public class AnalysisBenchmark {
  @Param({"4500", "9000", "18000", "36000"})
  int seconds;

  private List<Bin> bins;

  @Setup
  public void soak() {
    bins =
        new MadeSoak(seconds, MadeSoak.warmUp(22, 32, 900))
            .bias((axis, t, c, rate) -> 0.1 * axis + 0.02 * (c - 31))
            .bins();
  }

  /** Stillness, bias curve, noise and heading of three axes. */
  @Benchmark
  public Heading analysis() {
    StillSoak still = StillSoak.of(bins);
    BiasAnalysis curve = DriftAnalysis.biasCurve(still, CurveAsk.at(31), new double[0]);
    Noise noise = NoiseAnalysis.of(still, curve.curve());
    return HeadingAnalysis.of(curve, noise, HeadingAsk.between(26, 31));
  }

  @Benchmark
  public SoakDrift withWarmUp() {
    return SoakDrift.of(bins, CurveAsk.at(31), Rates.RAW);
  }

  @Benchmark
  public double ordinaryCubic() {
    double[] celsius = bins.stream().mapToDouble(b -> b.temperatureC().mean()).toArray();
    double digest = 0;
    for (int axis = 0; axis < 3; axis++) {
      int i = axis;
      double[] rate = bins.stream().mapToDouble(b -> b.gyroDps()[i].mean()).toArray();
      digest += PolynomialFit.of(celsius, rate, 3, 31).coefficients()[1];
    }
    return digest;
  }
}
