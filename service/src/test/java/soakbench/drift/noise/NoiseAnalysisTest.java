package soakbench.drift.noise;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import soakbench.drift.Bins;
import soakbench.drift.MadeSoak;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.numerics.Noises;

class NoiseAnalysisTest {
  private static Noise noise(List<Bin> bins) {
    StillSoak still = StillSoak.of(bins);
    BiasCurve curve = DriftAnalysis.biasCurve(still, CurveAsk.at(31), new double[0]).curve();
    return NoiseAnalysis.of(still, curve);
  }

  private static MadeSoak warming(int seconds) {
    return new MadeSoak(seconds, MadeSoak.warmUp(22, 32, 700))
        .bias((axis, t, c, rate) -> 0.02 * (c - 31));
  }

  @Test
  void whiteNoiseIsReadAtOneSecondAndTheRestIsNotResolved() {
    int covered = 0;
    for (int seed = 1; seed <= 20; seed++) {
      Noise noise = noise(warming(2400).noise(0.012, 0).seed(seed).bins());
      for (Noise.Axis axis : noise.axes()) {
        Estimate n = axis.angleRandomWalkDegPerSqrtH();
        covered += n.low() <= 0.72 && 0.72 <= n.high() ? 1 : 0;
        assertThat(axis.biasInstabilityDegPerH().reason()).contains("not resolved");
        assertThat(axis.rateRandomWalkDpsPerSqrtS().reason()).contains("not resolved");
      }
    }
    System.out.printf("N covered in %d of 60%n", covered);
    assertThat(covered).isGreaterThanOrEqualTo(52);
  }

  @Test
  void theFloorIsReadWhereTheRecordReachesIt() {
    double sum = 0;
    int resolved = 0;
    for (int seed = 1; seed <= 12; seed++) {
      Noise noise = noise(warming(7200).noise(0.004, 0.003).seed(seed).bins());
      for (Noise.Axis axis : noise.axes()) {
        Estimate b = axis.biasInstabilityDegPerH();
        resolved += b.known() ? 1 : 0;
        sum += b.known() ? Math.abs(b.value() / 10.8 - 1) : 0;
      }
    }
    System.out.printf("B resolved on %d of 36, mean error %.3f%n", resolved, sum / resolved);
    assertThat(resolved).isGreaterThanOrEqualTo(30);
    assertThat(sum / resolved).isLessThan(0.15);
  }

  @Test
  void theDeviationsAreShownToAQuarterAndEachHasItsLimits() {
    Noise.Axis x = noise(warming(1200).bins()).axes().get(0);
    assertThat(x.deviations().tauS()).startsWith(1, 2, 4, 8);
    assertThat(x.deviations().tauS()[x.deviations().tauS().length - 1]).isLessThanOrEqualTo(300);
    for (int i = 0; i < x.deviations().tauS().length; i++) {
      assertThat(x.deviations().adevLowDps()[i]).isLessThan(x.deviations().adevDps()[i]);
      assertThat(x.deviations().adevHighDps()[i]).isGreaterThan(x.deviations().adevDps()[i]);
    }
  }

  /** The early minutes warm by degrees; what their ramp makes must not be told as noise. */
  @Test
  void stretchesInWhichTheTemperatureRampsAreLeftOutAtLongTimes() {
    MadeSoak steep =
        new MadeSoak(3600, MadeSoak.warmUp(22, 32, 700))
            .noise(0.004, 0)
            .bias((axis, t, c, rate) -> 0.05 * (c - 31) + 0.3 * rate);
    Noise.Axis x = noise(steep.bins()).axes().get(0);
    for (int i = 0; i < x.deviations().tauS().length; i++) {
      double white = 0.004 / Math.sqrt(x.deviations().tauS()[i]);
      assertThat(x.deviations().adevLowDps()[i])
          .as("%s s", x.deviations().tauS()[i])
          .isLessThan(1.1 * white);
    }
    assertThat(x.biasInstabilityDegPerH().known()).isFalse();
  }

  @Test
  void aGapSplitsTheRecord() {
    List<Bin> bins = new ArrayList<>(new MadeSoak(1600, t -> 30).bins());
    bins.subList(700, 720).clear();
    Noise.Axis x = noise(bins).axes().get(0);
    assertThat(x.deviations().tauS()[x.deviations().tauS().length - 1]).isEqualTo(128);
    assertThat(x.angleRandomWalkDegPerSqrtH().value()).isEqualTo(0.6, Offset.offset(0.04));
  }

  @Test
  void aSpectralLineIsNamedAndNotToldAsWhite() {
    Noise noise =
        noise(
            warming(2400)
                .bias(
                    (axis, t, c, rate) ->
                        axis == 1 ? 0.01 * Math.sin(2 * Math.PI * 0.13 * t) : 0.02 * (c - 31))
                .bins());
    Noise.Axis y = noise.axes().get(1);
    String words = "not white: a spectral line at 0.130 Hz";
    assertThat(y.biasInstabilityDegPerH().reason()).contains(words);
    assertThat(y.rateRandomWalkDpsPerSqrtS().reason()).contains(words);
    assertThat(y.note()).contains("scatter within seconds", words, "too small behind a filter");
    Estimate n = y.angleRandomWalkDegPerSqrtH();
    assertThat(0.6).as("0.01 deg/sqrt(s)").isBetween(n.low(), n.high());
    assertThat(noise.axes().get(0).angleRandomWalkDegPerSqrtH().known()).isTrue();
  }

  @Test
  void whatHasNoNoiseToReadSaysWhy() {
    assertThat(noise(warming(50).bins()).reason()).startsWith("needs 64 s of lying still");
    assertThat(noise(List.of()).reason()).startsWith("needs 64 s of lying still");
    Bins shaken = new Bins(3);
    List<Bin> moved =
        java.util.stream.IntStream.range(0, 600).mapToObj(s -> shaken.second(s, 10, 40)).toList();
    assertThat(noise(moved).reason()).contains("it moved all the time");
    Bins seldom = new Bins(4);
    List<Bin> slow =
        java.util.stream.IntStream.range(0, 600)
            .map(s -> 5 * s)
            .mapToObj(s -> seldom.second(s, 1, 0))
            .toList();
    assertThat(noise(slow).reason()).contains("readings come too slowly");
    Noise dead = noise(new MadeSoak(600, t -> 25).noise(0, 0).bins());
    assertThat(dead.axes().get(0).angleRandomWalkDegPerSqrtH().reason())
        .isEqualTo("the readings do not change: no noise to measure");
  }

  /** A steep axis that warms: what that does to it rises with the averaging time as K does. */
  @Test
  void aSlowWalkIsNotToldWhereTheTemperatureWasNotTakenOff() {
    List<Bin> bins =
        new MadeSoak(3600, MadeSoak.warmUp(22, 32, 700))
            .bias((axis, t, c, rate) -> 0.03 * (c - 31))
            .bins();
    Noise with = noise(bins);
    Noise without = NoiseAnalysis.of(StillSoak.of(bins), BiasCurve.unknown("no temperature"));
    for (int axis = 0; axis < 3; axis++) {
      assertThat(with.axes().get(axis).rateRandomWalkDpsPerSqrtS().reason())
          .contains("not resolved");
      assertThat(without.axes().get(axis).rateRandomWalkDpsPerSqrtS().reason())
          .isEqualTo(
              "what the temperature does to the bias looks like it, and was not taken off: no"
                  + " temperature");
      assertThat(without.axes().get(axis).angleRandomWalkDegPerSqrtH().value())
          .isEqualTo(0.6, Offset.offset(0.03));
    }
  }

  @Test
  void whereSlowerNoiseHidesItWhiteNoiseIsReadWithinSeconds() {
    int held = 0;
    for (int seed = 1; seed <= 4; seed++) {
      Noise noise = noise(slowlyNoisy(seed));
      for (Noise.Axis axis : noise.axes()) {
        Estimate n = axis.angleRandomWalkDegPerSqrtH();
        held += n.low() <= 0.24 && 0.24 <= n.high() ? 1 : 0;
        assertThat(axis.note()).startsWith("N is by the scatter within seconds (no slope of -1/2");
      }
    }
    assertThat(held).isEqualTo(12);
  }

  /** White noise of 0.24 deg/sqrt(h) under a process that lasts for twenty seconds. */
  private static List<Bin> slowlyNoisy(int seed) {
    double decay = Math.exp(-1 / 20.0);
    double[][] slow = new double[3][];
    for (int axis = 0; axis < 3; axis++) {
      slow[axis] = Noises.white(1800, 0.03 * Math.sqrt(1 - decay * decay), 10 * seed + axis);
      for (int i = 1; i < slow[axis].length; i++) {
        slow[axis][i] += decay * slow[axis][i - 1];
      }
    }
    return warming(1800)
        .noise(0.004, 0)
        .bias((axis, t, c, rate) -> 0.02 * (c - 31) + slow[axis][(int) t])
        .seed(seed)
        .bins();
  }

  @Test
  void scatterThatTheSecondsDoNotBearOutIsNoWhiteNoise() {
    List<Bin> humming = slowlyNoisy(1).stream().map(b -> louder(b, 0.5)).toList();
    Noise.Axis x = noise(humming).axes().get(0);
    assertThat(x.angleRandomWalkDegPerSqrtH().reason()).startsWith("no slope of -1/2");
    assertThat(x.note()).isNull();
  }

  /** The same means, and a hum of whole cycles a second about them. */
  private static Bin louder(Bin b, double sdDps) {
    Bin.Channel[] gyro = new Bin.Channel[3];
    for (int i = 0; i < 3; i++) {
      gyro[i] = new Bin.Channel(b.rateCount(), b.gyroDps()[i].mean(), sdDps);
    }
    return new Bin(
        b.tracker(),
        b.second(),
        b.firstUs(),
        b.lastUs(),
        b.boot(),
        b.temperatureC(),
        gyro,
        b.accelG(),
        b.temperatureStepC(),
        b.gyroStepDps());
  }

  @Test
  void theSampleRateIsKept() {
    assertThat(noise(warming(600).bins()).sampleRateHz()).isEqualTo(10);
  }
}
