package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the bank believes possible. */
class RoomModelsTest {
  private static final RoomModels KNOWN = RoomModels.of(180);

  private static double nearest(List<RoomModel> models, double periodS) {
    return models.stream()
        .map(RoomModel::swing)
        .filter(s -> s.damping() < 1)
        .mapToDouble(s -> Math.abs(Math.log(s.periodS() / periodS)))
        .min()
        .orElseThrow();
  }

  /** A filter whose cycle is a fifth too long sees half a cycle more or less after two of them. */
  @ParameterizedTest
  @ValueSource(doubles = {300, 460, 690, 1030, 1500})
  void anyHeatingHasAFilterWhosePeriodIsNearItsOwn(double periodS) {
    assertThat(nearest(KNOWN.fine(null), periodS)).isLessThan(0.08);
    assertThat(nearest(KNOWN.coarse(null), periodS)).isLessThan(0.2);
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void allTogetherAreBelievedWholly(boolean fine) {
    List<RoomModel> models = fine ? KNOWN.fine(null) : KNOWN.coarse(null);
    assertThat(models.stream().mapToDouble(RoomModel::prior).sum()).isCloseTo(1, within(1e-9));
    double cycles =
        models.stream().filter(m -> m.swing().damping() < 1).mapToDouble(RoomModel::prior).sum();
    assertThat(cycles).isCloseTo(fine ? 0.4 : 0.45, within(1e-9));
  }
}
