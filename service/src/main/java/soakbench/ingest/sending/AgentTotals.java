package soakbench.ingest.sending;

/**
 * What became of the samples that were sent.
 *
 * @param accepted new ones
 * @param duplicate there already with the same values
 * @param conflicting there already with other values; the first were kept
 * @param refused never taken; set aside in the spool
 */
public record AgentTotals(long accepted, long duplicate, long conflicting, long refused) {
  static final AgentTotals NONE = new AgentTotals(0, 0, 0, 0);

  AgentTotals plus(Destination.Receipt receipt) {
    return new AgentTotals(
        accepted + receipt.outcome().accepted(),
        duplicate + receipt.outcome().duplicate(),
        conflicting + receipt.outcome().conflicting(),
        refused + receipt.refused().size());
  }
}
