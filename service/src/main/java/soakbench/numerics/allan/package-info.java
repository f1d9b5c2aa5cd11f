/** Allan deviation: estimate, confidence, and the noise that it shows (NIST SP 1065). */
package soakbench.numerics.allan;
