#!/bin/sh
# Made by thumbwright for Tarn: run by harrow-hall before a game.
export HARROW_TONGUE='en'
export HARROW_RIBBONS=1
