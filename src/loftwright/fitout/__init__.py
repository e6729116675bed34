"""What rides on the roof and goes into it: seal, headroom, powered lift, panel and wire, lining."""
