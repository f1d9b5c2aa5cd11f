package soakbench.live.arrival;

import soakbench.drift.calibration.HandlingProgress;
import soakbench.readiness.Readiness;

/**
 * A tracker that somebody holds, or laid down just now.
 *
 * @param progress how the handling stands
 * @param verdict what is shown of it
 */
public record InHand(HandlingProgress progress, Readiness verdict) {}
