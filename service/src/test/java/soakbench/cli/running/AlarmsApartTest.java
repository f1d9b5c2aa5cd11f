package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.live.EventClock;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.Arrival.Input;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Alarm;
import soakbench.model.Limits;

/** A mistake in one kind of the alarms' work holds up no other. */
class AlarmsApartTest {
  private static final long START_US = 1_772_352_000_000_000L;

  private final AtomicLong nowUs = new AtomicLong(START_US);
  private boolean mistaken;
  private final EventClock verdictsClock =
      () -> {
        if (mistaken) {
          throw new IllegalStateException("a mistake");
        }
        return nowUs.get();
      };
  private final SoakWatch watch = new SoakWatch(new MemoryStore(), Limits.DEFAULT, nowUs::get);
  private final ArrivalWatch arrivals = new ArrivalWatch(watch::limits, nowUs::get);
  private final LiveVerdicts live = new LiveVerdicts(watch, arrivals, verdictsClock);

  private void pass(AlarmService alarms, int seconds) {
    for (int i = 0; i < 2 * seconds; i++) {
      nowUs.addAndGet(500_000);
      alarms.pass(null, Optional.empty());
    }
  }

  @Test
  void alarmsEndWhileTheVerdictsFailWhichIsSaidOnce() {
    try (AlarmService alarms = new AlarmService(live, nowUs::get, null);
        LogLines log = new LogLines("soakbench.cli.running.IsolatedTasks")) {
      arrivals.heard(new Arrival("T", nowUs.get(), 30, Input.LIVE));
      alarms.databaseAway("it does not answer");
      pass(alarms, 5);
      assertThat(alarms.registry().all()).allMatch(Alarm::open).hasSize(1);
      alarms.databaseBack();
      mistaken = true;
      pass(alarms, 40);
      assertThat(alarms.registry().all()).noneMatch(Alarm::open).hasSize(1);
      assertThat(log.lines()).filteredOn(line -> line.contains("the rest goes on")).hasSize(2);
      mistaken = false;
      pass(alarms, 5);
      assertThat(log.lines()).filteredOn(line -> line.contains("after again")).hasSize(2);
    }
  }
}
