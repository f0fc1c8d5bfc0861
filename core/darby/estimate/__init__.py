"""What an estimate is made of.

Rules and measured surfaces come in; needs, packages, line items and open points go out. What every trade does alike
(areas, pooling, packing) stands here once. It knows no product.
"""
