package soakbench.ingest.sending;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/** Where spooled samples go: a store in this process, or a service somewhere else. */
public interface Destination {

  /**
   * What became of a batch.
   *
   * @param outcome of those that are stored now
   * @param refused those that will never be taken, by their place in the batch
   */
  record Receipt(SampleSink.Outcome outcome, List<Refusal> refused) {
    public Receipt {
      refused = List.copyOf(refused);
    }
  }

  /**
   * One sample that was refused for good, and why.
   *
   * @param index its place in the batch
   * @param elsewhere whether only because another service writes for its tracker's rack
   */
  record Refusal(int index, String reason, boolean elsewhere) {
    /** The same at another place. */
    Refusal at(int place) {
      return new Refusal(place, reason, elsewhere);
    }
  }

  /**
   * Takes samples; when it returns, all but the refused ones are stored for good.
   *
   * @throws StoreException if it is not known that they are stored; sending them again is harmless
   * @throws InterruptedException if the thread was interrupted; nothing is known of the batch then
   */
  Receipt send(List<Sample> samples) throws InterruptedException;

  /**
   * The same for samples of which some were sent before without an answer, so that nobody takes
   * them for live ones.
   */
  default Receipt sendAgain(List<Sample> samples) throws InterruptedException {
    return send(samples);
  }

  /** Whether it takes the newest of what waits. */
  default boolean hears() {
    return false;
  }

  /**
   * Reports the newest sample of each tracker, or two; that does not store them.
   *
   * @throws StoreException if they were not received
   */
  default void hear(List<Sample> newest) throws InterruptedException {}

  /** What people should know although samples get through, in a sentence; empty for nothing. */
  default Optional<String> notice() {
    return Optional.empty();
  }

  /**
   * The destination's date, as far as it is known, else this computer's: microseconds since 1970;
   * it may step.
   */
  default long dateUs() {
    return ArrivalClock.computersDateUs();
  }

  /** Requests its date, where it has one of its own and can be reached at once. */
  default void learnDate() {}

  /** Whether it refuses samples that lie a minute ahead of its clock. */
  default boolean refusesAhead() {
    return false;
  }

  /** A store in this process. */
  static Destination of(SampleSink sink) {
    return samples -> new Receipt(sink.accept(samples), List.of());
  }

  /**
   * The same of one that does not take every sample.
   *
   * @param refusal why a sample will never be taken; null where it is
   * @param elsewhere gives, for each batch anew, what says why a tracker is none of this store's,
   *     as other services write for its rack; null where it is
   */
  static Destination of(
      SampleSink sink,
      Function<Sample, String> refusal,
      Supplier<UnaryOperator<String>> elsewhere) {
    return samples -> {
      List<Sample> own = new ArrayList<>(samples.size());
      List<Refusal> refused = new ArrayList<>();
      UnaryOperator<String> elsewhereNow = elsewhere.get();
      for (int i = 0; i < samples.size(); i++) {
        Sample sample = samples.get(i);
        String others = elsewhereNow.apply(sample.tracker());
        String why = others == null ? refusal.apply(sample) : others;
        if (why == null) {
          own.add(sample);
        } else {
          refused.add(new Refusal(i, why, others != null));
        }
      }
      return new Receipt(
          own.isEmpty() ? new SampleSink.Outcome(0, 0, 0) : sink.accept(own), refused);
    };
  }
}
