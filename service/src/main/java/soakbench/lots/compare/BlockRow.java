package soakbench.lots.compare;

import java.util.Map;

/**
 * Units that were measured alike in one respect: on one day, on one rack.
 *
 * @param block its name; null for units of which it is not known
 * @param counts how many units each lot has there, by lot
 */
public record BlockRow(String block, Map<String, Integer> counts) {}
