/** One simulated unit: its heat, its gyro, its handling. */
package soakbench.demo.unit;
