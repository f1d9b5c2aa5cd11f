/** The gyro side: stillness, bias, poses, the bias curve, noise and what it costs in heading. */
package soakbench.drift;
