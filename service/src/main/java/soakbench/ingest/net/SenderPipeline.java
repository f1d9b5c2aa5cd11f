package soakbench.ingest.net;

import soakbench.ingest.identity.IdGate;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.identity.IdSource;
import soakbench.ingest.identity.ReorderBuffer;
import soakbench.ingest.identity.SampleStamper;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/** What one sender's readings pass: the gate, reordering, timestamps. Not thread-safe. */
final class SenderPipeline {
  private final SampleStamper stamper;
  private final ReorderBuffer reorder;
  private final IdGate gate;

  /**
   * @param reordered whether lines may come in another order than they were sent
   */
  SenderPipeline(
      String label,
      String tracker,
      IdOwners owners,
      LineCounters counters,
      Runnable reboots,
      boolean reordered) {
    IdSource source = new IdSource(label, counters, id -> reboots.run());
    stamper = new SampleStamper(tracker, owners, source);
    reorder = reordered ? new ReorderBuffer(stamper, counters) : null;
    gate = new IdGate(stamper, reordered ? reorder::take : stamper::take, counters);
  }

  Rejection take(Reading reading, long readUs) {
    gate.readAt(readUs);
    return gate.take(reading);
  }

  void release(long nowUs) {
    if (reorder != null) {
      reorder.release(nowUs);
    }
  }

  void gone() {
    endOrder();
    stamper.gone(true);
  }

  void stop() {
    endOrder();
    stamper.end();
  }

  private void endOrder() {
    if (reorder != null) {
      reorder.end();
    }
  }

  SampleStamper stamper() {
    return stamper;
  }
}
