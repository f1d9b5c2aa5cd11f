package soakbench.drift;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Bin;

/**
 * A whole soak's bins gone through for stillness: blocks, unbroken still pieces, sample rate.
 *
 * @param blocks still blocks, by time
 * @param pieces unbroken runs of still seconds within one pose
 * @param whiteDps Allan deviation at 1 s, deg/s, x y z; NaN where too little was still
 * @param sampleRateHz median readings a second; NaN without any
 * @param correction whether the firmware corrects the rates
 */
public record StillSoak(
    List<BiasBlock> blocks,
    List<List<Bin>> pieces,
    double[] whiteDps,
    double sampleRateHz,
    InsideCorrection.Finding correction) {

  /** Goes through the bins of one soak, by time. */
  public static StillSoak of(List<Bin> bins) {
    Stillness stillness = new Stillness();
    BiasBlocks blocks = new BiasBlocks();
    InsideCorrection inside = new InsideCorrection();
    List<List<Bin>> pieces = new ArrayList<>();
    List<Bin> piece = new ArrayList<>();
    Bin before = null;
    for (Bin bin : bins) {
      Stillness.Answer answer = stillness.accept(bin);
      double tS = bin.second() - bins.get(0).second() + 0.5;
      blocks.accept(bin, tS, answer);
      inside.accept(bin, tS, answer, blocks);
      boolean joins =
          before != null && bin.second() == before.second() + 1 && bin.boot() == before.boot();
      if (answer != Stillness.Answer.STILL || !joins) {
        piece = new ArrayList<>();
        pieces.add(piece);
      }
      if (answer == Stillness.Answer.STILL) {
        piece.add(bin);
      }
      before = bin;
    }
    pieces.removeIf(p -> p.size() < 4);
    double[] rates =
        bins.stream().mapToDouble(Bin::rateCount).filter(c -> c > 0).sorted().toArray();
    double rate = rates.length == 0 ? Double.NaN : rates[rates.length / 2];
    return new StillSoak(
        List.copyOf(blocks.blocks()), pieces, blocks.whiteNoiseDps(), rate, inside.finding());
  }
}
