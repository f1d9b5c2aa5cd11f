package soakbench.demo.lines;

/** The values of the next line; filled anew for each line. */
public final class LineValues {
  public long timeUs;
  public long arrivalUs;
  public long seq;
  public long tMs;
  public double temperatureC;
  public final double[] gyroDps = new double[3];
  public final double[] accelG = new double[3];
}
