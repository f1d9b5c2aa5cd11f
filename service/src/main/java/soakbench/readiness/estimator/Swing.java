package soakbench.readiness.estimator;

/**
 * How the surroundings may stray from their level: as a damped oscillator stirred by noise. With a
 * damping of 1 that is a smooth random change (the Matern covariance of order 3/2; J. Hartikainen
 * and S. Sarkka, Kalman filtering and smoothing solutions to temporal Gaussian process regression
 * models, IEEE MLSP 2010), with a small one a cycle whose phase and size change slowly (A. Solin
 * and S. Sarkka, Explicit link between periodic covariance functions and state space models,
 * AISTATS 2014).
 *
 * @param sdC standard deviation, degC
 * @param periodS length of a cycle, s
 * @param damping of the oscillator
 * @param prior how much it is believed beforehand
 */
record Swing(double sdC, double periodS, double damping, double prior) {

  double rate() {
    return 2 * Math.PI / periodS;
  }

  /** The model of value and slope: two by two, for a standard deviation of 1. */
  double[][] drift() {
    double w = rate();
    return new double[][] {{0, 1}, {-w * w, -2 * damping * w}};
  }

  /** Density of the noise that keeps the standard deviation at 1. */
  double density() {
    return 4 * damping * Math.pow(rate(), 3);
  }
}
