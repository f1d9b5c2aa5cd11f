package soakbench.live.calibration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import soakbench.live.StoreException;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck;
import soakbench.readiness.CalibrationCheck.Verdict;
import soakbench.readiness.GivenVerdicts;

class NewestCalibrationsTest {
  private static final long S = 1_000_000L;

  private final List<Calibration> stored = new ArrayList<>();
  private final AtomicLong nowUs = new AtomicLong();
  private boolean away;
  private final NewestCalibrations marks =
      new NewestCalibrations(
          () -> {
            if (away) {
              throw new StoreException("away", null, true);
            }
            return List.copyOf(stored);
          },
          nowUs::get);

  private static Calibration mark(long atS, String soak, Status status, Verdict verdict) {
    Estimate none = Estimate.unknown("not asked");
    Calibration.Check check =
        verdict == null
            ? null
            : new Calibration.Check(
                (atS + 60) * S,
                (atS + 120) * S,
                Rates.RAW,
                31,
                new CalibrationCheck(List.of(none, none, none), none, none, verdict, "so it is"));
    return new Calibration("T-1", atS * S, soak, Origin.SEEN, status, null, null, check, null);
  }

  private long newestS() {
    return marks.of("T-1").orElseThrow().atUs() / S;
  }

  @Test
  void whatIsStoredIsReadAtOnceAndEveryHalfMinuteAndKeptWhileTheStoreIsAway() {
    stored.add(mark(100, "T-1@A", Status.MARK, null));
    marks.refresh();
    assertThat(newestS()).isEqualTo(100);
    stored.set(0, mark(200, "T-1@A", Status.MARK, null));
    nowUs.set(29 * S);
    marks.refresh();
    assertThat(newestS()).isEqualTo(100);
    nowUs.set(30 * S);
    away = true;
    marks.refresh();
    assertThat(newestS()).isEqualTo(100);
    nowUs.set(60 * S);
    away = false;
    marks.refresh();
    assertThat(newestS()).isEqualTo(200);
  }

  @Test
  void aMarkOfAnOlderSoakSaysNothingAndOneThatWasUndoneGivesWay() {
    marks.changed(List.of(mark(300, "T-1@B", Status.MARK, null)));
    marks.changed(List.of(mark(100, "T-1@A", Status.MARK, null)));
    assertThat(newestS()).isEqualTo(300);
    marks.changed(
        List.of(
            mark(300, "T-1@B", Status.UNDONE, null), mark(250, "T-1@B", Status.QUESTION, null)));
    assertThat(newestS()).isEqualTo(250);
  }

  @Test
  void itIsDoneWhereItWasCheckedInThisSoakAndTheCheckSaysKeep() {
    String soak = "T-1@19700101T000000000Z";
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isFalse();
    marks.changed(List.of(mark(300, soak, Status.MARK, Verdict.UNKNOWN)));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isFalse();
    marks.changed(List.of(mark(300, soak, Status.MARK, Verdict.KEEP)));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isTrue();
    assertThat(marks.isDone(GivenVerdicts.of("T-2", State.SILENT))).isFalse();
    marks.changed(List.of(mark(300, soak, Status.UNDONE, Verdict.KEEP)));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isFalse();
  }

  @Test
  void itIsDoneToWhereItIsGoodNowAndOnlyItsUseIsNotKnown() {
    String soak = "T-1@19700101T000000000Z";
    Estimate little = Estimate.of(0.001, 0.0005, 2);
    Estimate much = Estimate.of(0.1, 0.0005, 2);
    Estimate none = Estimate.unknown("no curve");
    marks.changed(
        List.of(
            checked(
                soak,
                new CalibrationCheck(
                    List.of(little, little, little), none, none, Verdict.UNKNOWN, "no curve"))));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isTrue();
    marks.changed(
        List.of(
            checked(
                soak,
                new CalibrationCheck(
                    List.of(little, much, little), none, none, Verdict.UNKNOWN, "no curve"))));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isFalse();
  }

  private static Calibration checked(String soak, CalibrationCheck result) {
    Calibration.Check check = new Calibration.Check(360 * S, 420 * S, Rates.RAW, 31, result);
    return new Calibration("T-1", 300 * S, soak, Origin.SEEN, Status.MARK, null, null, check, null);
  }

  @Test
  void oneWithoutASoakWasNotCalibratedInIt() {
    marks.changed(List.of(mark(300, "T-1@19700101T000000000Z", Status.MARK, Verdict.KEEP)));
    assertThat(marks.isDone(GivenVerdicts.withoutSoak("T-1", State.SILENT))).isFalse();
  }

  @Test
  void switchedOffToBeCalibratedItIsDoneInTheSoakThatItWasCheckedIn() {
    // Lifted in the soak before, which its switching off ended; checked in the one of the epoch.
    marks.changed(List.of(mark(-30, "T-1@19691231T230000000Z", Status.MARK, Verdict.KEEP)));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isTrue();
    // The same long before.
    marks.changed(List.of(mark(-3000, "T-1@19691231T230000000Z", Status.MARK, Verdict.KEEP)));
    assertThat(marks.isDone(GivenVerdicts.of("T-1", State.SILENT))).isFalse();
  }
}
