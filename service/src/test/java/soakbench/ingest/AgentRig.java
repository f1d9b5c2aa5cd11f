package soakbench.ingest;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntConsumer;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.SampleSink;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;
import soakbench.serial.PortFinder;
import soakbench.serial.SystemPorts;

/** Pseudo-terminals, an agent that reads them and a store in memory, all closed after a test. */
public abstract class AgentRig {
  @TempDir public Path folder;

  public final List<AutoCloseable> toClose = new ArrayList<>();
  public final Map<String, List<Sample>> stored = new ConcurrentHashMap<>();
  public final List<String> failures = new CopyOnWriteArrayList<>();
  public final List<Arrival> heard = new CopyOnWriteArrayList<>();

  /** Finds what there is on this computer, unless a test sets another. */
  public PortFinder finder = new SystemPorts();

  public final SampleSink memory =
      samples -> {
        for (Sample sample : samples) {
          stored.computeIfAbsent(sample.tracker(), t -> new CopyOnWriteArrayList<>()).add(sample);
        }
        return new SampleSink.Outcome(samples.size(), 0, 0);
      };

  @BeforeEach
  public void waitLongEnoughForABusyMachine() {
    Awaitility.setDefaultTimeout(Duration.ofSeconds(30));
  }

  @AfterEach
  public void closeAll() throws Exception {
    for (int i = toClose.size() - 1; i >= 0; i--) {
      toClose.get(i).close();
    }
  }

  public PseudoTerminal device() throws IOException {
    PseudoTerminal device = new PseudoTerminal();
    toClose.add(device);
    return device;
  }

  public Spool spool(String name, long limitBytes) {
    SqliteSpool spool = SqliteSpool.open(folder.resolve(name), limitBytes);
    toClose.add(spool);
    return spool;
  }

  public Agent start(SampleSink sink, Spool spool, int queueSize, List<RackFile.Slot> slots) {
    Agent agent =
        new Agent(
            new RackFile("A", slots),
            finder,
            spool,
            Destination.of(sink),
            failures::add,
            queueSize,
            Duration.ofSeconds(3),
            heard::add);
    toClose.add(agent);
    agent.start();
    return agent;
  }

  public Agent start(SampleSink sink, List<RackFile.Slot> slots) {
    Spool own = spool("spool-" + toClose.size() + ".db", SqliteSpool.DEFAULT_LIMIT_BYTES);
    return start(sink, own, Agent.QUEUE_SIZE, slots);
  }

  public Agent start(List<RackFile.Slot> slots) {
    return start(memory, slots);
  }

  public static List<RackFile.Slot> slots(List<PseudoTerminal> devices) {
    return IntStream.range(0, devices.size())
        .mapToObj(i -> new RackFile.Slot("A" + (i + 1), devices.get(i).path()))
        .toList();
  }

  public static void awaitOpen(Agent agent) {
    await().until(() -> agent.sources().stream().allMatch(SourceStatus::open));
  }

  public static String line(String id, int seq) {
    return "{\"id\":\"%s\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.1,-0.2,0.3]}\r\n"
        .formatted(id, seq, 3000 + 20 * seq);
  }

  public int count(String tracker) {
    return stored.getOrDefault(tracker, List.of()).size();
  }

  /** Does something at even times, and returns after the last. */
  public static void every(Duration period, int times, IntConsumer action) throws Exception {
    ScheduledExecutorService beat = Executors.newSingleThreadScheduledExecutor();
    try {
      AtomicInteger count = new AtomicInteger();
      CompletableFuture<Void> done = new CompletableFuture<>();
      Runnable step =
          () -> {
            if (count.get() == times) {
              // Late on a busy machine it comes once more before it is shut down.
              return;
            }
            try {
              action.accept(count.get());
            } catch (Throwable e) {
              done.completeExceptionally(e);
            }
            if (count.incrementAndGet() == times) {
              done.complete(null);
            }
          };
      beat.scheduleAtFixedRate(step, 0, period.toNanos(), TimeUnit.NANOSECONDS);
      done.get(60, TimeUnit.SECONDS);
    } finally {
      beat.shutdownNow();
    }
  }
}
