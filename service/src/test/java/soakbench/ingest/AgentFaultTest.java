package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.ArrivalListener;
import soakbench.model.Sample;
import soakbench.serial.SerialLink;

/** Faults of this program at each place that a sample passes: none ends reading or storing. */
class AgentFaultTest extends AgentRig {

  @Test
  void aFaultOfTheDestinationIsTriedAgainWithPausesAndLosesNothing() throws Exception {
    AtomicInteger tries = new AtomicInteger();
    SampleSink failing =
        samples -> {
          if (tries.incrementAndGet() <= 4) {
            throw new IllegalStateException("a listener's mistake");
          }
          return memory.accept(samples);
        };
    PseudoTerminal device = device();
    try (LogLines log = new LogLines("soakbench.ingest.sending.Sender")) {
      Agent agent = start(failing, slots(List.of(device)));
      awaitOpen(agent);
      for (int seq = 0; seq < 50; seq++) {
        device.write(line("T-1", seq));
      }
      await().until(() -> agent.trouble().orElse("").contains("a listener's mistake"));
      await().until(() -> count("T-1") == 50);
      await().until(() -> agent.trouble().isEmpty());
      assertThat(log.lines().stream().filter(l -> l.contains("by a fault"))).hasSize(1);
      assertThat(agent.failure()).isEmpty();
    }
    assertThat(stored.get("T-1"))
        .extracting(Sample::seq)
        .isEqualTo(LongStream.range(0, 50).boxed().toList());
  }

  @Test
  void poisonIsNotTriedInATightLoop() throws Exception {
    AtomicInteger tries = new AtomicInteger();
    PseudoTerminal device = device();
    Agent agent =
        start(
            samples -> {
              tries.incrementAndGet();
              throw new IllegalStateException("poison");
            },
            slots(List.of(device)));
    awaitOpen(agent);
    device.write(line("T-1", 0) + line("T-1", 1));
    await().until(() -> tries.get() > 0);
    await()
        .during(Duration.ofMillis(900))
        .atMost(Duration.ofSeconds(10))
        .until(() -> tries.get() < 12);
    assertThat(agent.waiting()).isEqualTo(2);
  }

  @Test
  void whoHearsOfArrivalsMayFailWithoutLoss() throws Exception {
    ArrivalListener failing =
        arrival -> {
          throw new IllegalStateException("heat");
        };
    PseudoTerminal device = device();
    try (LogLines log = new LogLines("soakbench.ingest")) {
      Agent agent =
          new Agent(
              new RackFile("A", slots(List.of(device))),
              finder,
              spool("faulty.db", SqliteSpool.DEFAULT_LIMIT_BYTES),
              Destination.of(memory),
              failures::add,
              Agent.QUEUE_SIZE,
              Duration.ofSeconds(3),
              failing);
      toClose.add(agent);
      agent.start();
      awaitOpen(agent);
      for (int seq = 0; seq < 50; seq++) {
        device.write(line("T-1", seq));
      }
      await().until(() -> count("T-1") == 50);
      assertThat(log.lines().stream().filter(l -> l.contains("telling what arrives"))).hasSize(1);
    }
  }

  @Test
  void everyReadingIsHeardWhileTheStoreIsAwayAndBeforeItsTimeIsLookedAt() throws Exception {
    PseudoTerminal device = device();
    Agent agent =
        start(
            samples -> {
              throw new StoreException("away", null, true);
            },
            slots(List.of(device)));
    awaitOpen(agent);
    device.write(line("T-1", 0) + line("T-1", 1));
    device.write("{\"id\":\"T-1\",\"time\":\"2000-01-01T00:00:00Z\",\"temp_c\":70}\n");
    device.write(line("T-1", 1));
    device.write("{\"id\":\"T-1\",\"gyro_dps\":[1,2,3]}\n");
    await().until(() -> heard.size() == 5);
    assertThat(heard.get(2))
        .usingRecursiveComparison()
        .ignoringFields("line")
        .isEqualTo(new Arrival("T-1", 946_684_800_000_000L, 70, Arrival.Input.LIVE));
    assertThat(heard.get(2).line().temperatureC()).isEqualTo(70);
    assertThat(heard.get(1).stampUs()).isEqualTo(Long.MIN_VALUE);
    assertThat(heard.get(4).temperatureC()).isNaN();
    assertThat(agent.failure()).isEmpty();
  }

  @Test
  void aTemperatureThatWasCarriedForwardIsNoHeatOfNow() throws Exception {
    PseudoTerminal device = device();
    Agent agent = start(slots(List.of(device)));
    awaitOpen(agent);
    String held = "{\"id\":\"T-1\",\"temp_c\":%d,\"temp_held\":%b,\"gyro_dps\":[1,2,3]}\n";
    device.write(held.formatted(70, true) + held.formatted(71, true) + held.formatted(25, false));
    await().until(() -> heard.size() == 3);
    assertThat(heard)
        .extracting(Arrival::temperatureC)
        .containsExactly(Double.NaN, Double.NaN, 25.0);
  }

  @Test
  void whatGotNoAnswerIsSentAgainAsSuchAndMeanwhileTheNewestIsTold() throws Exception {
    List<Long> sent = new CopyOnWriteArrayList<>();
    List<Sample> told = new CopyOnWriteArrayList<>();
    AtomicInteger again = new AtomicInteger();
    Destination away =
        new Destination() {
          @Override
          public Receipt send(List<Sample> samples) {
            samples.forEach(sample -> sent.add(sample.seq()));
            throw new StoreException("away", null, true);
          }

          @Override
          public Receipt sendAgain(List<Sample> samples) {
            again.incrementAndGet();
            throw new StoreException("away still", null, true);
          }

          @Override
          public boolean hears() {
            return true;
          }

          @Override
          public void hear(List<Sample> newest) {
            told.addAll(newest);
          }
        };
    PseudoTerminal device = device();
    Agent agent =
        new Agent(
            new RackFile("A", slots(List.of(device))),
            finder,
            spool("away.db", SqliteSpool.DEFAULT_LIMIT_BYTES),
            away,
            failures::add,
            Agent.QUEUE_SIZE,
            Duration.ofSeconds(3),
            heard::add);
    toClose.add(agent);
    agent.start();
    awaitOpen(agent);
    device.write(line("T-1", 0) + line("T-1", 1));
    await().until(() -> again.get() > 2);
    await().until(() -> told.stream().anyMatch(sample -> sample.seq() == 1));
    device.write(line("T-1", 2));
    await().until(() -> told.stream().anyMatch(sample -> sample.seq() == 2));
    assertThat(sent).as("each once").doesNotHaveDuplicates();
    assertThat(told).extracting(Sample::seq).as("each once").isSorted().doesNotHaveDuplicates();
  }

  @Test
  void aPortsListenerMayFailAtEveryCallAndIsCalledOn() throws Exception {
    PseudoTerminal device = device();
    AtomicInteger bytes = new AtomicInteger();
    SerialLink.Listener failing =
        new SerialLink.Listener() {
          @Override
          public void opened() {
            throw new IllegalStateException("opened");
          }

          @Override
          public void bytes(byte[] buffer, int length) {
            bytes.addAndGet(length);
            throw new IllegalStateException("bytes");
          }

          @Override
          public void lost(String reason) {
            throw new IllegalStateException("lost");
          }

          @Override
          public void cannotOpen(String reason) {
            throw new IllegalStateException("cannotOpen");
          }
        };
    try (LogLines log = new LogLines("soakbench.serial");
        SerialLink link =
            new SerialLink(new SerialLink.Port(device.path(), 115200, false), failing)) {
      link.start();
      await()
          .until(
              () -> {
                device.write("x\n");
                return bytes.get() > 20;
              });
      assertThat(log.lines()).as("once for each kind").hasSize(2);
    }
  }

  @Test
  void lookingForPortsGoesOnAfterAFault() throws Exception {
    PseudoTerminal device = device();
    AtomicInteger looks = new AtomicInteger();
    Sockets sockets = new Sockets();
    sockets.plug(device, "1-1", "");
    finder =
        () -> {
          if (looks.incrementAndGet() <= 2) {
            throw new IllegalStateException("the system's list");
          }
          return sockets.find();
        };
    Agent agent =
        start(
            List.of(
                new RackFile.Slot(
                    "A1",
                    new SlotBinding("", "", ""),
                    PortSettings.USUAL,
                    new LineSettings("T-1", null, null))));
    await().until(() -> agent.sources().stream().anyMatch(SourceStatus::open));
    device.write(line("T-1", 0));
    await().until(() -> count("T-1") == 1);
  }
}
