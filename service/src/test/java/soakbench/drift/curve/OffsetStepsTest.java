package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.drift.SimulatedBins;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Estimate;

/** Firmware that is calibrated as it lies: its rates step, and nothing else shows it. */
class OffsetStepsTest {

  private static List<Bin> soak(Mix mix, long seed) {
    return SimulatedBins.of(SimulateOptions.usual(seed).withMix(mix));
  }

  /** The same with another offset from three fifths of it on. */
  private static List<Bin> stepped(List<Bin> bins, double dps) {
    long at = bins.get(bins.size() * 3 / 5).second();
    return bins.stream().map(b -> b.second() < at ? b : less(b, dps)).toList();
  }

  private static Bin less(Bin b, double dps) {
    Channel[] rates = b.gyroDps().clone();
    rates[0] = new Channel(rates[0].count(), rates[0].mean() - dps, rates[0].sd());
    rates[1] = new Channel(rates[1].count(), rates[1].mean() + dps / 2, rates[1].sd());
    return new Bin(
        b.tracker(),
        b.second(),
        b.firstUs(),
        b.lastUs(),
        b.boot(),
        b.temperatureC(),
        rates,
        b.accelG(),
        b.gyroStepDps(),
        b.temperatureStepC());
  }

  private static List<Estimate> tempcoDpsPerC(List<Bin> bins) {
    BiasCurve curve =
        DriftAnalysis.biasCurve(StillSoak.of(bins), CurveAsk.at(31), new double[0]).curve();
    return curve.axes().stream().map(axis -> axis.figures().tempcoDpsPerC()).toList();
  }

  private static long poses(List<Bin> bins) {
    return CurveBlock.of(StillSoak.of(bins)).stream().map(CurveBlock::segment).distinct().count();
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.055, 0.1, 0.5})
  void aStepIsANewOffsetAndNeverANewCurve(double dps) {
    List<Bin> bins = soak(Mix.CLEAN, 4);
    List<Estimate> expected = tempcoDpsPerC(bins);
    List<Estimate> found = tempcoDpsPerC(stepped(bins, dps));
    assertThat(poses(stepped(bins, dps))).isEqualTo(poses(bins) + 1);
    for (int i = 0; i < 3; i++) {
      assertThat(found.get(i).value()).isBetween(expected.get(i).low(), expected.get(i).high());
    }
  }

  @ParameterizedTest
  @EnumSource(Mix.class)
  void whatNeverStepsIsOnePieceAsBefore(Mix mix) {
    areNotCut(mix, 9000, 9002);
  }

  @ParameterizedTest
  @EnumSource(Mix.class)
  @Tag("bench")
  void whatNeverStepsIsOnePieceAsBeforeManyTimes(Mix mix) {
    areNotCut(mix, 9000, 9040);
  }

  private static void areNotCut(Mix mix, long from, long to) {
    for (long seed = from; seed < to; seed++) {
      StillSoak soak = StillSoak.of(soak(mix, seed));
      List<Integer> before = soak.blocks().stream().map(b -> b.segment()).distinct().toList();
      assertThat(CurveBlock.of(soak)).extracting(CurveBlock::segment).isSubsetOf(before);
    }
  }

  @Test
  void tooFewBlocksShowNoStep() {
    List<Bin> bins = soak(Mix.CLEAN, 4).subList(0, 400);
    assertThat(poses(stepped(bins, 0.05))).isEqualTo(1);
  }
}
