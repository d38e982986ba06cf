/* hairfibre: property models of hair fibres. One header per room; this one brings them all. */
#ifndef HAIRFIBRE_H
#define HAIRFIBRE_H

#include <hairfibre/base.h>
#include <hairfibre/water.h>
#include <hairfibre/keratin.h>
#include <hairfibre/vapour.h>
#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>
#include <hairfibre/strength.h>
#include <hairfibre/treatment.h>
#include <hairfibre/inference.h>
#include <hairfibre/statistics.h>
#include <hairfibre/quantity.h>
#include <hairfibre/uncertainty.h>
#include <hairfibre/ensemble.h>

#endif
