package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Limits;

/** Which filters the expected time is drawn from. */
class ForecastTest {
  private static final Swing CALM = new Swing(0.003, 900, 1, 1);
  private static final double[] STILL_DPS = {0.1, 0.1, 0.1};
  private static final Block NEWEST =
      new Block(
          600,
          Reading.about(26, 0.002),
          STILL_DPS,
          new double[] {1e-6, 1e-6, 1e-6},
          0,
          false,
          false);

  /** Twenty quick bodies, each believed a little more than each of twenty slow ones. */
  @Test
  void manyFiltersThatAreEachBelievedLittleAreHeardToo() {
    List<WeighedFilter> quick = filters(400, 0.026);
    List<WeighedFilter> all = new ArrayList<>(quick);
    all.addAll(filters(1500, 0.024));
    Answer.Expected ofQuick = expected(quick);
    Answer.Expected ofAll = expected(all);
    assertThat(ofAll.earliestS()).isLessThan(1.5 * ofQuick.earliestS());
    assertThat(ofAll.latestS()).isGreaterThan(2 * ofQuick.latestS());
  }

  private static Answer.Expected expected(List<WeighedFilter> filters) {
    Forecast.Now now = new Forecast.Now(NEWEST, 0, 60, 0, 0);
    return new Forecast(Limits.DEFAULT).expected(filters, now, 600);
  }

  /** Bodies that were seen to warm from 22 towards 31 degC for ten minutes, on gentle axes. */
  private static List<WeighedFilter> filters(double tauS, double shareEach) {
    List<WeighedFilter> out = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      Member member = new Member(new RoomModel(tauS, 0.02, CALM, 1, 180), 22);
      AxisBank[] axes = {new AxisBank(0.1), new AxisBank(0.1), new AxisBank(0.1)};
      double beforeC = 22;
      for (int k = 1; k <= 60; k++) {
        double celsius = 31 - 9 * Math.exp(-k * Blocks.BLOCK_S / tauS);
        member.predict(member.model().block(), Blocks.BLOCK_S, 0);
        member.update(Reading.about(celsius, 0.002));
        for (AxisBank axis : axes) {
          axis.predict(Blocks.BLOCK_S);
          axis.moveReference(celsius - beforeC);
          axis.update(0.1, 1e-6, 1e-6);
        }
        beforeC = celsius;
      }
      out.add(new WeighedFilter(shareEach, shareEach, member, beforeC, axes));
    }
    return out;
  }
}
