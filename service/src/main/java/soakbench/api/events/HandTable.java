package soakbench.api.events;

import java.util.List;
import java.util.function.UnaryOperator;
import soakbench.api.http.Table;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.drift.calibration.HandlingProgress.Face;
import soakbench.live.arrival.InHand;
import soakbench.readiness.HandWords;
import soakbench.readiness.NextStep;

/** A tracker in somebody's hand as it is answered. */
final class HandTable {
  private static final Table<Face> FACE =
      new Table<Face>()
          .member("face", Face::number)
          .member("up", Face::up)
          .member("held_s", Face::heldS)
          .member("times", Face::times)
          .member("done", Face::done);

  private HandTable() {}

  /**
   * The table.
   *
   * @param nameOf what people call a tracker, by its id
   */
  static Table<InHand> of(UnaryOperator<String> nameOf) {
    return new Table<InHand>()
        .member("tracker", h -> h.verdict().tracker())
        .member("name", h -> nameOf.apply(h.verdict().tracker()))
        .memberTime("since", h -> 1_000_000L * h.progress().sinceSecond())
        .member("face", h -> h.progress().face())
        .member("faces_wanted", h -> HandlingProgress.FACES)
        .member("faces_shown", h -> faces(h.progress()))
        .member("accelerometer", h -> h.progress().accelerometer())
        .member("off_and_on", h -> h.progress().offAndOn())
        .member("still_s", h -> h.progress().stillS())
        .member("enough_s", h -> HandlingProgress.ENOUGH_S)
        .member("open_s", h -> h.progress().openS())
        .member("open_at_most_s", HandTable::atMostS)
        .member("temperature_c", h -> known(h.progress().temperatureC()))
        .member("may_be_calibrated", h -> NextStep.mayBeCalibrated(h.verdict()))
        .member("words", h -> HandWords.of(h.progress(), atMostS(h)))
        .member("off_and_on_words", h -> HandWords.offAndOn(h.progress()))
        .member("note", h -> HandWords.note(h.progress()));
  }

  private static List<?> faces(HandlingProgress progress) {
    return FACE.json(progress.faces());
  }

  private static Double atMostS(InHand h) {
    return h.verdict().unwrapped().timeS().low();
  }

  private static Double known(double c) {
    return Double.isNaN(c) ? null : c;
  }
}
