package soakbench.store;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import java.util.function.BooleanSupplier;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.slf4j.LoggerFactory;
import org.testcontainers.DockerClientFactory;

/** Says in one line what is not tested where there is no Docker. */
final class DockerNotice implements ExecutionCondition {
  @Override
  public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
    if (quietly(() -> DockerClientFactory.instance().isDockerAvailable())) {
      return ConditionEvaluationResult.enabled("Docker is there");
    }
    System.err.println("skipped: store tests on TimescaleDB in a container (no Docker here)");
    return ConditionEvaluationResult.disabled("Docker is not available");
  }

  /** Looking for Docker logs a page of errors where there is none; our one line says it all. */
  private static boolean quietly(BooleanSupplier question) {
    Logger log = (Logger) LoggerFactory.getLogger("org.testcontainers");
    Level before = log.getLevel();
    log.setLevel(Level.OFF);
    try {
      return question.getAsBoolean();
    } finally {
      log.setLevel(before);
    }
  }
}
