#!/bin/sh
exec lua5.4 tests/command/same_bytes.lua
