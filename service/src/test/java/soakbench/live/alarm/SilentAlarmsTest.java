package soakbench.live.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause;
import soakbench.model.State;
import soakbench.readiness.GivenVerdicts;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;

/** Which alarms silence makes: none, one, or one for a whole rack. */
class SilentAlarmsTest {
  /** The date when a test begins, s since 1970. */
  private static final long DATE_S = 1_000_000;

  private final AlarmRegistry registry = new AlarmRegistry();

  /** For how long they were silent when a test began; none of them was heard since. */
  private final Map<String, Long> missedForS = new HashMap<>();

  private final Map<String, State> states = new TreeMap<>();
  private final Set<String> kept = new HashSet<>();
  private final Map<String, Heat> heat = new HashMap<>();
  private final List<String> told = new ArrayList<>();
  private final SilentAlarms silence =
      new SilentAlarms(
          registry,
          t -> t.contains("/") ? t.split("/")[0] : "",
          v -> kept.contains(v.tracker()),
          t -> !missedForS.containsKey(t));

  @BeforeEach
  void listen() {
    registry.subscribe((change, alarm) -> told.add(change + " " + whom(alarm)));
  }

  private static String whom(Alarm alarm) {
    return alarm.tracker() == null ? "rack " + alarm.cause().about().rack() : alarm.tracker();
  }

  /** Twelve trackers each on racks A and B, and some without a rack. */
  private void soaking() {
    for (int i = 1; i <= 12; i++) {
      states.put("A/" + i, State.SOAKING);
      states.put("B/" + i, State.WARMING);
    }
    IntStream.rangeClosed(1, 4).forEach(i -> states.put("loose-" + i, State.READY));
  }

  private void silent(String... trackers) {
    for (String tracker : trackers) {
      states.put(tracker, State.SILENT);
    }
  }

  /** Before the service started. */
  private void missed(String tracker, long forS) {
    silent(tracker);
    missedForS.put(tracker, forS);
  }

  private void silentOnA(int from, int to) {
    IntStream.rangeClosed(from, to).forEach(i -> silent("A/" + i));
  }

  private void heardOnA(int from, int to) {
    IntStream.rangeClosed(from, to).forEach(i -> states.put("A/" + i, State.SOAKING));
  }

  /** As the service does twice a second. */
  private void pass(double fromS, double toS) {
    for (double s = fromS; s < toS; s += 0.5) {
      long nowUs = Math.round(1e6 * s);
      List<Readiness> all = states.keySet().stream().map(this::verdict).toList();
      registry.goneButFor(states.keySet(), nowUs);
      silence.check(all, nowUs, DATE_S * 1_000_000 + nowUs);
      registry.pass(nowUs);
    }
  }

  private Readiness verdict(String tracker) {
    long sinceS = DATE_S - missedForS.getOrDefault(tracker, 0L);
    return GivenVerdicts.of(tracker, states.get(tracker), sinceS, null, heat.get(tracker));
  }

  private List<String> open() {
    return registry.all().stream().filter(Alarm::open).map(SilentAlarmsTest::whom).toList();
  }

  @Test
  void oneThatFallsSilentIsToldAfterFiveSecondsAndOverWhenItIsHeard() {
    soaking();
    silent("A/3");
    pass(0, 5);
    assertThat(told).isEmpty();
    pass(5, 6);
    assertThat(open()).containsExactly("A/3");
    states.put("A/3", State.SOAKING);
    pass(6, 40);
    assertThat(told).containsExactly("RAISED A/3", "ENDED A/3");
  }

  @Test
  void aRackThatFallsSilentAsAWholeIsOneAlarmAlthoughItsTrackersDoNotAtOneMoment() {
    soaking();
    for (int i = 1; i <= 12; i++) {
      silent("A/" + i);
      pass(0.6 * i, 0.6 * i + 0.5);
    }
    pass(10, 300);
    assertThat(told).filteredOn(line -> line.startsWith("RAISED")).containsExactly("RAISED rack A");
    Alarm alarm = registry.all().get(0);
    assertThat(alarm.kind()).isEqualTo(AlarmCause.Kind.RACK_SILENT);
    assertThat(alarm.id()).startsWith("rack_silent:A@");
    assertThat(alarm.cause().message()).contains("of 12 trackers of rack A");
    assertThat(alarm.cause().advice()).contains("look at them", "hub");
  }

  @Test
  void thoseThatWereToldOneByOneAreFoldedIntoTheirRacksAlarm() {
    soaking();
    for (int i = 1; i <= 7; i++) {
      silent("A/" + i);
      pass(4 * i, 4 * i + 4);
    }
    assertThat(told).contains("RAISED A/1", "RAISED A/2", "RAISED rack A", "ENDED A/1");
    assertThat(open()).containsExactly("rack A");
  }

  @Test
  void halfOfARackOrThoseThatDropOutOverMinutesAreToldOneByOne() {
    soaking();
    silentOnA(1, 6);
    pass(0, 10);
    assertThat(open()).containsExactly("A/1", "A/2", "A/3", "A/4", "A/5", "A/6");
    states.clear();
    pass(10, 50);
    soaking();
    told.clear();
    for (int i = 1; i <= 9; i++) {
      silent("B/" + i);
      pass(50 + 20 * i, 50 + 20 * i + 20);
    }
    assertThat(open()).hasSize(9).doesNotContain("rack B");
  }

  @Test
  void thoseThatWereSilentBeforeDoNotHideThatTheRestFellSilentTogether() {
    soaking();
    silentOnA(1, 5);
    pass(0, 60);
    assertThat(open()).hasSize(5).doesNotContain("rack A");
    silentOnA(6, 9);
    pass(60, 70);
    assertThat(open()).as("four of the seven that were heard").containsExactly("rack A");
    assertThat(registry.all().get(0).cause().message()).contains("9 of 12 trackers of rack A");
  }

  @Test
  void trackersWithoutARackAreOneGroup() {
    soaking();
    silent("loose-1", "loose-2", "loose-3");
    pass(0, 10);
    assertThat(open()).containsExactly("rack ");
    assertThat(registry.all().get(0).cause().message()).contains("3 of 4 trackers without a rack");
  }

  @Test
  void twoTrackersAreNoRack() {
    states.put("A/1", State.SOAKING);
    states.put("A/2", State.SOAKING);
    silentOnA(1, 2);
    pass(0, 10);
    assertThat(open()).containsExactly("A/1", "A/2");
  }

  @Test
  void aRackThatIsHeardAgainEndsItsAlarmAndTheFewThatAreNotHaveTheirOwn() {
    soaking();
    silentOnA(1, 12);
    pass(0, 20);
    heardOnA(1, 5);
    pass(20, 60);
    assertThat(open()).as("seven of twelve are still silent").containsExactly("rack A");
    heardOnA(6, 10);
    pass(60, 100);
    assertThat(open()).containsExactly("A/11", "A/12");
    assertThat(told).contains("ENDED rack A");
  }

  @Test
  void aRackThatComesBackOneAfterTheOtherHasNoAlarmsOfItsLastOnes() {
    soaking();
    silentOnA(1, 12);
    pass(0, 20);
    for (int i = 1; i <= 12; i++) {
      heardOnA(i, i);
      pass(20 + 2 * i, 22 + 2 * i);
    }
    pass(46, 100);
    assertThat(told).containsExactly("RAISED rack A", "ENDED rack A");
  }

  @Test
  void aRackWhoseSoaksAreOverOneAfterTheOtherHasNoAlarmsInItsLastSeconds() {
    soaking();
    silentOnA(1, 12);
    pass(0, 20);
    for (int i = 1; i <= 12; i++) {
      states.remove("A/" + i);
      pass(20 + i, 21 + i);
    }
    pass(40, 80);
    assertThat(told).containsExactly("RAISED rack A", "ENDED rack A");
  }

  @Test
  void oneThatWasCalibratedAndKeptIsTakenOffWithoutAnAlarmAlsoWhereThatIsKnownLater() {
    soaking();
    kept.add("A/1");
    silent("A/1", "A/2");
    pass(0, 60);
    assertThat(open()).containsExactly("A/2");
    kept.add("A/2");
    pass(60, 100);
    assertThat(open()).isEmpty();
  }

  @Test
  void oneThatWasCalibratedAndHeardLastWithHeatIsSilentAllTheSame() {
    soaking();
    kept.add("A/1");
    kept.add("A/2");
    heat.put("A/1", new Heat(Heat.Kind.HEADING_HOT, 46, 45, "it heads for 46 °C", null));
    silent("A/1", "A/2");
    pass(0, 60);
    assertThat(open()).containsExactly("A/1");
  }

  @Test
  void tenTakenOffTogetherAfterTheirCalibrationsAreNoSilentRack() {
    soaking();
    IntStream.rangeClosed(1, 10).forEach(i -> kept.add("A/" + i));
    silentOnA(1, 11);
    pass(0, 60);
    assertThat(open()).containsExactly("A/11");
  }

  @Test
  void afterAStartWhatIsHeardAgainWithinHalfAMinuteWasNotSilent() {
    soaking();
    for (int i = 1; i <= 12; i++) {
      missed("A/" + i, 90);
    }
    pass(0, 25);
    assertThat(told).isEmpty();
    heardOnA(1, 11);
    pass(25, 60);
    assertThat(told).containsExactly("RAISED A/12");
  }

  @Test
  void aRackThatIsNotHeardAgainAfterAStartIsOneAlarmHalfAMinuteLater() {
    soaking();
    for (int i = 1; i <= 12; i++) {
      missed("A/" + i, 90 + i);
    }
    pass(0, 30);
    assertThat(told).isEmpty();
    pass(30, 31);
    assertThat(told).containsExactly("RAISED rack A");
  }

  @Test
  void thoseThatFellSilentHoursApartBeforeAStartAreNotToldAsSilentTogether() {
    soaking();
    for (int i = 1; i <= 9; i++) {
      missed("A/" + i, 3600L * i);
    }
    pass(0, 60);
    assertThat(open()).hasSize(9).doesNotContain("rack A");
  }

  @Test
  void thoseThatWereSilentBeforeAStartDoNotHideThatTheRestFallsSilentSoonAfterIt() {
    soaking();
    for (int i = 1; i <= 5; i++) {
      missed("A/" + i, 3600L * i);
    }
    pass(0, 5);
    silentOnA(6, 9);
    pass(5, 6);
    assertThat(told).as("four of the seven that were heard").containsExactly("RAISED rack A");
  }
}
