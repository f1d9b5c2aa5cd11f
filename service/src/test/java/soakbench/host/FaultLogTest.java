package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Logger;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;
import soakbench.LogLines;

class FaultLogTest {
  private static final String NAME = "soakbench.host.FaultLogTest.lines";

  static {
    // Nothing failed: nobody shall look for these faults on the console.
    ((Logger) LoggerFactory.getLogger(NAME)).setAdditive(false);
  }

  private final FaultLog faults = new FaultLog(LoggerFactory.getLogger(NAME), "reading port A1");

  private static RuntimeException fault(String method) {
    RuntimeException fault = new IllegalStateException(method);
    fault.setStackTrace(
        new StackTraceElement[] {new StackTraceElement("Any", method, "Any.java", 1)});
    return fault;
  }

  @Test
  void eachKindIsLoggedOnceAndAllAreCounted() {
    try (LogLines log = new LogLines(NAME)) {
      for (int i = 0; i < 100; i++) {
        faults.add(fault("one"));
        faults.add(fault("other"));
      }
      assertThat(log.lines())
          .hasSize(2)
          .containsOnly("reading port A1 failed by a fault of this program, and goes on");
    }
    assertThat(faults.count()).isEqualTo(200);
  }

  @Test
  void oneOfAnotherClassFromTheSamePlaceIsAnotherKind() {
    RuntimeException other = new IllegalArgumentException("one");
    other.setStackTrace(fault("one").getStackTrace());
    try (LogLines log = new LogLines(NAME)) {
      faults.add(fault("one"));
      faults.add(other);
      assertThat(log.lines()).hasSize(2);
    }
  }

  @Test
  void noMoreThanTwentyKindsAreLogged() {
    try (LogLines log = new LogLines(NAME)) {
      for (int i = 0; i < 50; i++) {
        faults.add(fault("m" + i));
      }
      assertThat(log.lines()).hasSize(20);
    }
    assertThat(faults.count()).isEqualTo(50);
  }

  @Test
  void aFaultThatDoesNotSayWhereIsAKindToo() {
    RuntimeException bare = new IllegalStateException("bare");
    bare.setStackTrace(new StackTraceElement[0]);
    try (LogLines log = new LogLines(NAME)) {
      faults.add(bare);
      faults.add(bare);
      assertThat(log.lines()).hasSize(1);
    }
    assertThat(faults.count()).isEqualTo(2);
  }
}
