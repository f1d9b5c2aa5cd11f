package soakbench.ingest.sending;

/**
 * What became of the samples that were sent.
 *
 * @param accepted new ones
 * @param duplicate there already with the same values
 * @param conflicting there already with other values; the first were kept
 * @param refused refused for good; set aside in the spool
 */
public record DeliveryTotals(long accepted, long duplicate, long conflicting, long refused) {
  static final DeliveryTotals NONE = new DeliveryTotals(0, 0, 0, 0);

  DeliveryTotals plus(Destination.Receipt receipt) {
    return new DeliveryTotals(
        accepted + receipt.outcome().accepted(),
        duplicate + receipt.outcome().duplicate(),
        conflicting + receipt.outcome().conflicting(),
        refused + receipt.refused().size());
  }
}
