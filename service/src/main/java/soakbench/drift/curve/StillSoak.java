package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import soakbench.drift.correction.InsideCorrection;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.Stillness;
import soakbench.drift.still.TemperatureCourse;
import soakbench.model.Axes;
import soakbench.model.Bin;

/**
 * A whole soak's bins gone through for stillness: blocks, unbroken still pieces, sample rate. Flat:
 * curve, noise and check each take other parts of it, and none two together.
 *
 * @param blocks still blocks, by time
 * @param pieces unbroken runs of still seconds within one pose
 * @param whiteDps Allan deviation at 1 s, deg/s, x y z; NaN where too little was still
 * @param sampleRateHz median readings a second; NaN without any
 * @param correction whether the firmware corrects the rates
 * @param course temperature and its rate at any time
 * @param bootsS when it was powered on, as far as the soak shows, s since its start; ascending
 * @param whyNoBlocks what kept it from still blocks; of no meaning where there are some
 */
public record StillSoak(
    List<BiasBlock> blocks,
    List<List<Bin>> pieces,
    double[] whiteDps,
    double sampleRateHz,
    InsideCorrection.Finding correction,
    TemperatureCourse course,
    double[] bootsS,
    String whyNoBlocks) {

  /** Of fewer seconds the only reason given is that they are too few. */
  private static final int ENOUGH_SECONDS = 30;

  /** Goes through the bins of one soak, by time. */
  public static StillSoak of(List<Bin> bins) {
    Stillness stillness = new Stillness();
    BiasBlocks blocks = new BiasBlocks();
    InsideCorrection inside = new InsideCorrection();
    List<List<Bin>> pieces = new ArrayList<>();
    List<Bin> piece = new ArrayList<>();
    Map<Stillness.Answer, Integer> answers = new EnumMap<>(Stillness.Answer.class);
    Bin before = null;
    for (Bin bin : bins) {
      Stillness.Answer answer = stillness.accept(bin);
      answers.merge(answer, 1, Integer::sum);
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
        List.copyOf(blocks.blocks()),
        pieces,
        blocks.whiteNoiseDps(),
        rate,
        inside.finding(),
        TemperatureCourse.of(bins, bins.isEmpty() ? 0 : bins.get(0).second()),
        boots(bins),
        whyNoBlocks(answers, bins.size(), stillness.endlessAxis()));
  }

  private static String whyNoBlocks(
      Map<Stillness.Answer, Integer> answers, int seconds, int endlessAxis) {
    int slow = answers.getOrDefault(Stillness.Answer.TOO_SLOW, 0);
    int without = answers.getOrDefault(Stillness.Answer.NO_RATES, 0);
    int still = answers.getOrDefault(Stillness.Answer.STILL, 0);
    if (seconds > 0 && without == seconds) {
      return "it sent no rates";
    }
    String never = "never still for 30 s";
    if (endlessAxis >= 0) {
      return never
          + ": its "
          + Axes.NAMES.get(endlessAxis)
          + " axis reads a fast turn without a rest";
    }
    if (seconds >= ENOUGH_SECONDS && slow > still) {
      return "readings come too slowly to see motion; at least one every two seconds is needed";
    }
    boolean moved = seconds >= ENOUGH_SECONDS && still == 0;
    return moved ? never + ": it moved all the time" : never + " with a temperature";
  }

  private static double[] boots(List<Bin> bins) {
    List<Double> boots = new ArrayList<>(List.of(0.0));
    for (int i = 1; i < bins.size(); i++) {
      if (bins.get(i).boot() != bins.get(i - 1).boot()) {
        boots.add((double) bins.get(i).second() - bins.get(0).second());
      }
    }
    return boots.stream().mapToDouble(Double::doubleValue).toArray();
  }

  /** Time since the last power-on that the soak shows; its own start counts as one. */
  double sinceBootS(double tS) {
    double boot = 0;
    for (double at : bootsS) {
      boot = at <= tS ? at : boot;
    }
    return tS - boot;
  }
}
