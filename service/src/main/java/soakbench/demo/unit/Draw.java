package soakbench.demo.unit;

import java.util.SplittableRandom;

/** Random figures of the kinds that recipes need. */
public final class Draw {
  private final SplittableRandom random;

  public Draw(SplittableRandom random) {
    this.random = random;
  }

  public SplittableRandom random() {
    return random;
  }

  public double between(double low, double high) {
    return low + (high - low) * random.nextDouble();
  }

  /** Evenly spread over the logarithm. */
  public double spread(double low, double high) {
    return low * Math.pow(high / low, random.nextDouble());
  }

  double normal(double sd) {
    return sd * random.nextGaussian();
  }

  public boolean chance(double probability) {
    return random.nextDouble() < probability;
  }

  public double oneOf(double... values) {
    return values[random.nextInt(values.length)];
  }

  /** A direction in space. */
  public double[] direction() {
    double x = random.nextGaussian();
    double y = random.nextGaussian();
    double z = random.nextGaussian();
    double length = Math.sqrt(x * x + y * y + z * z);
    return new double[] {x / length, y / length, z / length};
  }

  /** A whole second. */
  public double second(double low, double high) {
    return Math.rint(between(low, high));
  }
}
