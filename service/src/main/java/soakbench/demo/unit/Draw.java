package soakbench.demo.unit;

import java.util.SplittableRandom;

/** Random draws of the distributions that recipes need. */
public final class Draw {
  private final SplittableRandom random;

  public Draw(SplittableRandom random) {
    this.random = random;
  }

  public SplittableRandom random() {
    return random;
  }

  public double uniform(double low, double high) {
    return low + (high - low) * random.nextDouble();
  }

  /** Uniform in the logarithm. */
  public double logUniform(double low, double high) {
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
  public double wholeSecond(double low, double high) {
    return Math.rint(uniform(low, high));
  }
}
