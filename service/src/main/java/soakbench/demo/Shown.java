package soakbench.demo;

/** What the next line will say; filled anew for each line. */
final class Shown {
  long timeUs;
  long arrivalUs;
  long seq;
  long tMs;
  double temperatureC;
  final double[] gyroDps = new double[3];
  final double[] accelG = new double[3];
}
