package soakbench.ingest;

import soakbench.live.Sink;

/**
 * What became of the samples that were sent.
 *
 * @param accepted new ones
 * @param duplicate there already with the same values
 * @param conflicting there already with other values; the first were kept
 */
public record AgentTotals(long accepted, long duplicate, long conflicting) {

  AgentTotals plus(Sink.Outcome outcome) {
    return new AgentTotals(
        accepted + outcome.accepted(),
        duplicate + outcome.duplicate(),
        conflicting + outcome.conflicting());
  }
}
