/* Units the published values come in, as SI. Exact: NIST SP 811 (2008), appendix B. */
#ifndef SHEAF_TESTS_PUBLISHED_MEASURES_H
#define SHEAF_TESTS_PUBLISHED_MEASURES_H

#include "trade/circle.h"

#define MM     1e-3
#define MM2    1e-6
#define CM3    1e-6
#define INCH   25.4e-3
#define INCH2  (INCH * INCH)
#define INCH3  (INCH * INCH * INCH)
#define MPA    1e6
#define LBF    4.4482216152605
#define LBF_IN 0.1129848290276167
#define LBF_FT 1.3558179483314004
#define PSI    6894.757293168361
#define KSI    (1000.0 * PSI)
#define DEG    (TRADE_PI / 180.0)
#define RPM    (TRADE_PI / 30.0)

#define COUNT(table) (sizeof(table) / sizeof *(table))

#endif
